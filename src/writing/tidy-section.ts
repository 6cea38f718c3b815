import type { Section } from '../entries/catalogue.ts';
import { columnOf } from './edit.ts';
import { isFields } from './new-entry.ts';
import { renderItem } from './render-entry.ts';
import { commentsOn, indentOf, isBlank, lineOf, type TextLines } from './text-lines.ts';
import { dateOf, INDENT, type ItemBlock, indented, sectionOf } from './tidy-blocks.ts';
import { tidyBrackets } from './tidy-brackets.ts';
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
export function tidySection(text: TextLines, section: Section, pair: PairNode): TidySection {
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

function tidyList(text: TextLines, section: Section, seq: YAMLSeq, keyLine: number): TidySection {
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
  section: Section,
  item: unknown,
  first: number,
  last: number,
  dash: number,
): readonly string[] {
  const value = plainValue(item);
  const comments = commentsOn(text, first, last);
  const [comment, ...more] = comments;
  const trailing = comment === undefined || comment.start >= endOf(item);
  if (!isFields(value) || more.length > 0 || !trailing || hasBlockScalar(item)) {
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
