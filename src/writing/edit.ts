import type { YamlNode } from '../reading/yaml-node.ts';
import { lineStart } from '../source/position.ts';

/** A change to a text: at `at`, `remove` characters go and `insert` comes. */
export interface Edit {
  readonly at: number;
  readonly remove: number;
  readonly insert: string;
}

/** The text with all edits made; edits at the same place are made in the order given. */
export function applyEdits(text: string, edits: readonly Edit[]): string {
  const sorted = [...edits].sort((a, b) => a.at - b.at);
  let made = '';
  let from = 0;
  for (const { at, remove, insert } of sorted) {
    made += text.slice(from, at) + insert;
    from = at + remove;
  }
  return made + text.slice(from);
}

/** An edit that puts whole lines in at an offset where a line begins, or at the end of the text. */
export function insertLines(text: string, at: number, lines: readonly string[]): Edit {
  const eol = lineEndAt(text, at);
  const joined = lines.join(eol);
  const afterBreak = at === 0 || text[at - 1] === '\n';
  return { at, remove: 0, insert: afterBreak ? joined + eol : eol + joined };
}

/** The line end in use around an offset: that of the line before, else the first of the text. */
export function lineEndAt(text: string, at: number): string {
  const before = at === 0 ? -1 : text.lastIndexOf('\n', at - 1);
  const found = before < 0 ? text.indexOf('\n') : before;
  return found > 0 && text[found - 1] === '\r' ? '\r\n' : '\n';
}

/** The offset at which the line after the one that holds `offset` begins, or the end of the text. */
export function nextLine(text: string, offset: number): number {
  const end = text.indexOf('\n', offset);
  return end < 0 ? text.length : end + 1;
}

/** The column, counted from 0, at which an offset stands in its line. */
export function columnOf(text: string, offset: number): number {
  return offset - lineStart(text, offset);
}

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
