import { applyEdits, type Edit } from './edit.ts';
import { renderFlow } from './render-entry.ts';
import { isBlockPlain, looksLikeAnother, quoted } from './render-scalar.ts';
import { isBlank, lineOf, textLines } from './text-lines.ts';
import { bracketsOf, endOf, plainValue, rootNode, scalarsOf, startOf } from './yaml-nodes.ts';

/**
 * A file whose order and form are its author's: only quotes that are not needed, quotes that are
 * missing, spaces inside brackets on one line, loose spaces and runs of blank lines change.
 */
export function tidyPlainText(source: string, root: unknown): string {
  const edits: Edit[] = [];
  const inBrackets: [number, number][] = [];
  for (const node of bracketsOf(root)) {
    const [at, end] = [startOf(node), endOf(node)];
    inBrackets.push([at, end]);
    const written = source.slice(at, end);
    if (!written.includes('\n')) replace(edits, at, written, renderFlow(plainValue(node)));
  }
  for (const { node, isKey } of scalarsOf(root)) {
    const [at, end] = [startOf(node), endOf(node)];
    if (inBrackets.some(([from, to]) => at >= from && end <= to)) continue;
    const written = source.slice(at, end);
    if (typeof node.value !== 'string' || written.includes('\n')) continue;
    if (/^["']/.test(written) && isBlockPlain(node.value)) replace(edits, at, written, node.value);
    if (written === node.value && looksLikeAnother(node.value) && node.value !== 'on' && !isKey) {
      replace(edits, at, written, quoted(node.value));
    }
  }
  return calm(applyEdits(source, edits));
}

function replace(edits: Edit[], at: number, written: string, wanted: string): void {
  if (written !== wanted) edits.push({ at, remove: written.length, insert: wanted });
}

/** Without loose spaces and runs of blank lines, but not inside texts of several lines. */
function calm(source: string): string {
  const text = textLines(source);
  const held = heldLines(source);
  const lines: string[] = [];
  for (const [index, line] of text.lines.entries()) {
    if (held.has(index)) {
      lines.push(line);
      continue;
    }
    const run = isBlank(line) && isBlank(lines.at(-1)) && !held.has(index - 1);
    if (!run) lines.push(line.trimEnd());
  }
  return lines.join('\n');
}

function heldLines(source: string): ReadonlySet<number> {
  const text = textLines(source);
  const held = new Set<number>();
  for (const { node } of scalarsOf(rootNode(source))) {
    const [from, to] = [lineOf(text, startOf(node)), lineOf(text, Math.max(0, endOf(node) - 1))];
    for (let line = from; from < to && line <= to; line++) held.add(line);
  }
  return held;
}
