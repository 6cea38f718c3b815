import type { Section } from '../entries/catalogue.ts';
import { isFields } from './new-entry.ts';
import { renderItem } from './render-entry.ts';
import { commentsOn, lineOf, type TextLines } from './text-lines.ts';
import { dateOf, INDENT, type ItemBlock, indented, sectionOf } from './tidy-blocks.ts';
import { endOf, plainValue, startOf, type YAMLSeq } from './yaml-nodes.ts';

/**
 * A section in brackets as a list of lines. A comment behind an entry stays with it, a comment on a
 * line of its own goes with the entry below; where one stands inside an entry nothing is touched.
 */
export function tidyBrackets(
  text: TextLines,
  section: Section,
  seq: YAMLSeq,
  keyLine: number,
): { readonly lines: readonly string[]; readonly next: number } {
  const lastLine = lineOf(text, endOf(seq) - 1);
  const next = lastLine + 1;
  const untouched = { lines: text.lines.slice(keyLine, next), next };
  const values = seq.items.map(plainValue);
  if (!values.every(isFields)) return untouched;
  const ends = seq.items.map(endOf);
  const starts = seq.items.map(startOf);
  const leads = values.map((): string[] => []);
  const trails = values.map((): string[] => []);
  const head: string[] = [];
  const keyComments: string[] = [];
  for (const comment of commentsOn(text, keyLine, lastLine)) {
    const line = lineOf(text, comment.start);
    const before = ends.findLastIndex((end) => end <= comment.start);
    const after = starts.findIndex((start) => start > comment.start);
    const inside = starts.some(
      (start, at) => start <= comment.start && comment.start < (ends[at] ?? 0),
    );
    if (inside) return untouched;
    const beforeLine = before < 0 ? keyLine : lineOf(text, ends[before] ?? 0);
    if (comment.start >= endOf(seq)) keyComments.push(comment.text);
    else if (line === beforeLine) (trails[before] ?? keyComments).push(comment.text);
    else (leads[after] ?? trails.at(-1) ?? head).push(comment.text);
  }
  const [keyComment, ...more] = keyComments;
  const blocks = values.map((value, at): ItemBlock => {
    const [trail, ...own] = trails[at] ?? [];
    const lines = renderItem(section, value, INDENT);
    const last = `${lines.at(-1) ?? ''}${trail === undefined ? '' : `  ${trail}`}`;
    return {
      date: dateOf(value),
      lead: (leads[at] ?? []).map((line) => indented(line, INDENT)),
      body: [...lines.slice(0, -1), last, ...own.map((line) => indented(line, INDENT + 2))],
    };
  });
  // A second comment of the key line stands under it, apart from the first entry.
  const top = [...more, ...head];
  const parted = top.length > 0 ? [...top, ''] : [];
  return { lines: sectionOf(section, keyComment, parted, blocks), next };
}
