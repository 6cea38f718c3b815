import type { SourceFile } from './source-file.ts';

export interface Position {
  /** Counted from 1. */
  readonly line: number;
  /** Counted from 1, in UTF-16 units, as editors count. */
  readonly column: number;
}

const lineStartsOf = new WeakMap<SourceFile, readonly number[]>();

/** Offsets at which lines begin; a line ends at LF, CRLF or a lone CR, as in YAML 1.2, 5.4. */
export function lineStarts(file: SourceFile): readonly number[] {
  const known = lineStartsOf.get(file);
  if (known !== undefined) return known;
  const starts = [0];
  for (const found of file.text.matchAll(/\r\n|\n|\r/g)) {
    starts.push(found.index + found[0].length);
  }
  lineStartsOf.set(file, starts);
  return starts;
}

/** Line and column of an offset; offsets outside the file are brought to its nearest end. */
export function positionAt(file: SourceFile, offset: number): Position {
  const starts = lineStarts(file);
  const within = Math.max(0, Math.min(offset, file.text.length));
  let low = 0;
  let high = starts.length - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if ((starts[middle] ?? 0) <= within) low = middle;
    else high = middle - 1;
  }
  return { line: low + 1, column: within - (starts[low] ?? 0) + 1 };
}

/** The offset at which a line begins; lines past the end begin at the end. */
export function offsetOfLine(file: SourceFile, line: number): number {
  return lineStarts(file)[line - 1] ?? file.text.length;
}

/** The text of a line without its line end; empty past the last line. */
export function lineText(file: SourceFile, line: number): string {
  const start = offsetOfLine(file, line);
  const end = offsetOfLine(file, line + 1);
  return file.text.slice(start, end).replace(/[\r\n]+$/, '');
}

/** The offset at which the line begins that an offset stands in; lines end at LF. */
export function lineStart(text: string, offset: number): number {
  return offset === 0 ? 0 : text.lastIndexOf('\n', offset - 1) + 1;
}
