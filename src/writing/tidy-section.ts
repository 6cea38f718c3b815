import type { SeasonSection } from '../model/ledger.ts';
import { columnOf } from './edit.ts';
import { isFileMap } from './new-entry.ts';
import { renderItem, renderKey } from './render-entry.ts';
import {
  commentsOn,
  indentOf,
  isBlank,
  lineOf,
  type TextLines,
  withoutRuns,
} from './text-lines.ts';
import {
  asSeq,
  endOf,
  hasBlockScalar,
  isFlow,
  type PairNode,
  plainValue,
  startOf,
  type YAMLSeq,
} from './yaml-nodes.ts';

/** A section in its canonical form, and the line after the last that it used. */
export interface TidySection {
  readonly lines: readonly string[];
  readonly next: number;
}

/** A list of entries, in date order, each in its canonical form with its comments. */
export function tidySection(text: TextLines, section: SeasonSection, pair: PairNode): TidySection {
  const keyLine = lineOf(text, startOf(pair.keyNode));
  const seq = asSeq(pair.value);
  if (seq !== undefined && seq.items.length > 0) {
    return isFlow(seq)
      ? tidyBrackets(text, section, seq, keyLine)
      : tidyList(text, section, seq, keyLine);
  }
  // Nothing behind the key, but maybe brackets over some lines, or a comment.
  const lastLine = Math.max(keyLine, lastLineOf(text, pair.value ?? pair.keyNode));
  const lines = text.lines.slice(keyLine, lastLine + 1).map((line) => line.trimEnd());
  return { lines, next: lastLine + 1 };
}

function tidyList(
  text: TextLines,
  section: SeasonSection,
  seq: YAMLSeq,
  keyLine: number,
): TidySection {
  const dash = columnOf(text.text, startOf(seq));
  const blocks: ItemBlock[] = [];
  let head: readonly string[] = [];
  let next = keyLine + 1;
  for (const [index, item] of seq.items.entries()) {
    const first = dashLine(text, lineOf(text, startOf(item)), dash);
    const last = Math.max(first, lastLineOf(text, item));
    const gap = text.lines.slice(next, first);
    let lead = gap;
    if (index === 0) {
      // What is parted from the first entry by a blank line belongs to the section.
      const attached = gap.length - 1 - gap.findLastIndex((line) => isBlank(line));
      head = gap.slice(0, gap.length - attached);
      lead = gap.slice(gap.length - attached);
    }
    next = last + 1;
    while (text.commentLines.has(next) && indentOf(text.lines[next] ?? '') > dash) next++;
    const own = text.lines.slice(last + 1, next).map((line) => indented(line, INDENT + 2));
    const body = tidyItem(text, section, item, first, last, dash);
    blocks.push({
      date: dateOf(plainValue(item)),
      lead: lead.map((line) => indented(line, INDENT)),
      body: [...body, ...own],
    });
  }
  const comment = commentsOn(text, keyLine, keyLine)[0];
  return { lines: sectionOf(section, comment?.text, head, blocks), next };
}

/** An entry in its canonical form; one with comments or texts of several lines inside only moves. */
function tidyItem(
  text: TextLines,
  section: SeasonSection,
  item: unknown,
  first: number,
  last: number,
  dash: number,
): readonly string[] {
  const value = plainValue(item);
  const comments = commentsOn(text, first, last);
  const [comment, ...more] = comments;
  const trailing = comment === undefined || comment.start >= endOf(item);
  if (!isFileMap(value) || more.length > 0 || !trailing || hasBlockScalar(item)) {
    return shifted(text.lines.slice(first, last + 1), INDENT - dash);
  }
  const lines = renderItem(section, value, INDENT);
  if (comment === undefined) return lines;
  return [...lines.slice(0, -1), `${lines.at(-1) ?? ''}  ${comment.text}`];
}

/** The line of an entry's dash: at or above the line on which its value begins. */
function dashLine(text: TextLines, from: number, dash: number): number {
  for (let line = from; line > 0; line--) {
    const shown = text.lines[line] ?? '';
    if (indentOf(shown) === dash && /^-(?:\s|$)/.test(shown.slice(dash))) return line;
  }
  return from;
}

export function lastLineOf(text: TextLines, node: unknown): number {
  const end = endOf(node);
  // The range of a block scalar ends where the next line begins.
  const within = text.text[end - 1] === '\n' ? end - 1 : end;
  return lineOf(text, within);
}

function shifted(lines: readonly string[], by: number): readonly string[] {
  return lines.map((line) => {
    if (isBlank(line)) return line;
    if (by >= 0) return ' '.repeat(by) + line;
    return line.slice(Math.min(-by, indentOf(line)));
  });
}

/** Column of the dashes of a section in canonical form. */
const INDENT = 2;

/** An entry with the lines that go with it. */
interface ItemBlock {
  readonly date: string;
  /** Comments and blank lines above it. */
  readonly lead: readonly string[];
  readonly body: readonly string[];
}

/** The lines of a section: its key, what stands at its head, its entries in date order. */
function sectionOf(
  key: string,
  comment: string | undefined,
  head: readonly string[],
  blocks: readonly ItemBlock[],
): readonly string[] {
  const made = [...withoutRuns(head.map((line) => indented(line, INDENT)))];
  for (const { lead, body } of inDateOrder(blocks)) {
    for (const line of lead) {
      // No blank line right under the key, and no two in a row.
      if (!isBlank(line) || (made.length > 0 && !isBlank(made.at(-1)))) made.push(line);
    }
    made.push(...body);
  }
  const keyLine = `${renderKey(key)}:${comment === undefined ? '' : `  ${comment}`}`;
  return [keyLine, ...(isBlank(made[0]) ? made.slice(1) : made)];
}

export function indented(line: string, indent: number): string {
  return isBlank(line) ? '' : ' '.repeat(indent) + line.trim();
}

/** The date of an entry, or nothing where it has none that can be read. */
export function dateOf(value: unknown): string {
  const date: unknown = isFileMap(value) ? value['on'] : undefined;
  return typeof date === 'string' && /^\d{4}-\d\d-\d\d$/.test(date) ? date : '';
}

/** By date, equal dates as they stood; one without a date stays behind the one before it. */
export function inDateOrder<Dated extends { readonly date: string }>(
  list: readonly Dated[],
): readonly Dated[] {
  let before = '';
  const dated = list.map((one) => {
    if (one.date !== '') before = one.date;
    return { one, date: before };
  });
  return dated
    .sort((a, b) => (a.date < b.date ? -1 : a.date > b.date ? 1 : 0))
    .map(({ one }) => one);
}

/**
 * A section in brackets as a list of lines. A comment behind an entry stays with it, a comment on a
 * line of its own goes with the entry below; where one stands inside an entry nothing is touched.
 */
function tidyBrackets(
  text: TextLines,
  section: SeasonSection,
  seq: YAMLSeq,
  keyLine: number,
): { readonly lines: readonly string[]; readonly next: number } {
  const lastLine = lineOf(text, endOf(seq) - 1);
  const next = lastLine + 1;
  const untouched = { lines: text.lines.slice(keyLine, next), next };
  const values = seq.items.map(plainValue);
  if (!values.every(isFileMap)) return untouched;
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
