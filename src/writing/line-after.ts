import type { YamlNode } from '../reading/yaml-node.ts';
import { nextLine } from './edit.ts';

/**
 * The offset of the line after everything that belongs to a node that ends its line: its last line
 * with any comment there, and comments below that are set in deeper than `column`.
 */
export function lineAfter(text: string, node: YamlNode, column: number): number {
  const { end } = node;
  const onNewLine = lastLeaf(node).isBlockText && text[end - 1] === '\n';
  let at = onNewLine ? end : nextLine(text, end);
  for (let look = at; look < text.length; ) {
    const next = nextLine(text, look);
    const line = text.slice(look, next);
    const comment = /^( *)#/.exec(line);
    if (comment === null && line.trim() !== '') break;
    if (comment !== null) {
      if ((comment[1] ?? '').length <= column) break;
      at = next;
    }
    look = next;
  }
  return at;
}

/** The last leaf of a node, on which it ends. */
function lastLeaf(node: YamlNode): YamlNode {
  const last = node.isFlow ? undefined : (node.items.at(-1) ?? node.pairs.at(-1)?.value);
  return last === undefined ? node : lastLeaf(last);
}
