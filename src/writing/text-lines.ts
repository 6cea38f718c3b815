import { type Comment, commentsOf } from './yaml-nodes.ts';

/** A text as lines, with its comments found. Line ends are LF. */
export interface TextLines {
  readonly text: string;
  readonly lines: readonly string[];
  readonly starts: readonly number[];
  readonly comments: readonly Comment[];
  /** Lines that hold nothing but a comment. */
  readonly commentLines: ReadonlySet<number>;
}

export function textLines(text: string): TextLines {
  const lines = text.split('\n');
  const starts: number[] = [];
  let at = 0;
  for (const line of lines) {
    starts.push(at);
    at += line.length + 1;
  }
  const comments = commentsOf(text);
  const made = { text, lines, starts, comments };
  const commentLines = new Set<number>();
  for (const comment of comments) {
    const line = lineOf(made, comment.start);
    if (text.slice(starts[line], comment.start).trim() === '') commentLines.add(line);
  }
  return { ...made, commentLines };
}

/** The line that holds an offset, counted from 0. */
export function lineOf({ starts }: Pick<TextLines, 'starts'>, offset: number): number {
  let low = 0;
  let high = starts.length - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if ((starts[middle] ?? 0) <= offset) low = middle;
    else high = middle - 1;
  }
  return low;
}

export function indentOf(line: string): number {
  return line.length - line.trimStart().length;
}

export function isBlank(line: string | undefined): boolean {
  return line !== undefined && line.trim() === '';
}

/** The comments that begin on lines `[from, to]`. */
export function commentsOn(text: TextLines, from: number, to: number): readonly Comment[] {
  const start = text.starts[from] ?? 0;
  const end = text.starts[to + 1] ?? text.text.length + 1;
  return text.comments.filter((comment) => comment.start >= start && comment.start < end);
}

/** Lines without loose spaces, no two blank ones in a row. */
export function withoutRuns(lines: readonly string[]): readonly string[] {
  return lines.filter((line, index) => !(isBlank(line) && isBlank(lines[index - 1])));
}

export function trimmedBlank(lines: readonly string[]): readonly string[] {
  const first = lines.findIndex((line) => !isBlank(line));
  if (first < 0) return [];
  const last = lines.findLastIndex((line) => !isBlank(line));
  return lines.slice(first, last + 1);
}
