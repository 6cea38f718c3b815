import { SECTIONS } from '../entries/catalogue.ts';
import { SEASON_KEYS } from '../entries/derive/schemas.ts';
import { columnOf } from './edit.ts';
import { isFileMap } from './new-entry.ts';
import { renderKey, renderScalar } from './render-entry.ts';
import {
  commentsOn,
  indentOf,
  isBlank,
  lineOf,
  type TextLines,
  textLines,
  trimmedBlank,
  withoutRuns,
} from './text-lines.ts';
import { indented, lastLineOf, tidySection } from './tidy-section.ts';
import {
  isBlockScalar,
  type PairNode,
  pairsOf,
  plainValue,
  startOf,
  type YAMLMap,
} from './yaml-nodes.ts';

/** A key of the file with everything that goes with it. */
interface RootBlock {
  readonly key: string;
  /** Comments right above it. */
  readonly lead: readonly string[];
  readonly body: readonly string[];
  /** Comments below it that belong to no other key. */
  readonly tail: readonly string[];
}

/**
 * The lines of a season file in canonical form: sections in their order with a blank line before
 * each, entries in date order. Comments right above an entry or a key go with it; comments parted
 * from it by a blank line stay in their place.
 */
export function tidySeasonLines(source: string, root: YAMLMap): readonly string[] {
  const text = textLines(source);
  const column = columnOf(source, startOf(root.items[0]));
  const pairs = pairsOf(root);
  const keyLines = pairs.map((pair) => lineOf(text, startOf(pair.keyNode)));
  const blocks: RootBlock[] = [];
  const top = splitGap(text, 0, keyLines[0] ?? 0, column);
  let lead = top.attached;
  let footer: readonly string[] = [];
  for (const [index, pair] of pairs.entries()) {
    const { lines: body, next } = tidyPair(text, pair, keyLines[index] ?? 0, column);
    const following = keyLines[index + 1];
    const gap = splitGap(text, next, following ?? text.lines.length, column);
    let tail = gap.loose;
    if (following === undefined) {
      // At the end of the file nothing follows that the last comments could belong to.
      const all = [...gap.loose, ...gap.attached];
      const end = endOfTail(all, column);
      tail = all.slice(0, end);
      footer = all.slice(end);
    }
    blocks.push({ key: pair.key, lead, body, tail });
    lead = gap.attached;
  }
  return assembled(top.loose, blocks, footer, column);
}

function tidyPair(
  text: TextLines,
  pair: PairNode,
  keyLine: number,
  column: number,
): { readonly lines: readonly string[]; readonly next: number } {
  const section = SECTIONS.find((one) => one === pair.key);
  const isList = Array.isArray(plainValue(pair.value));
  if (section !== undefined && column === 0 && (isList || isNothing(pair.value))) {
    return tidySection(text, section, pair);
  }
  const lastLine = Math.max(keyLine, lastLineOf(text, pair.value ?? pair.keyNode));
  const value = plainValue(pair.value);
  const lines = text.lines.slice(keyLine, lastLine + 1);
  const single = keyLine === lastLine && !isBlockScalar(pair.value) && !isFileMap(value) && !isList;
  if (!single || column !== 0) return { lines, next: lastLine + 1 };
  const comment = commentsOn(text, keyLine, keyLine)[0];
  const trailing = comment === undefined ? '' : `  ${comment.text}`;
  const line = `${renderKey(pair.key)}: ${renderScalar(value)}${trailing}`;
  return { lines: [line], next: lastLine + 1 };
}

function isNothing(node: unknown): boolean {
  return plainValue(node) === null;
}

/** The lines between two keys: those right above the second belong to it, the rest does not. */
function splitGap(text: TextLines, from: number, to: number, column: number) {
  let first = to;
  while (
    first > from &&
    text.commentLines.has(first - 1) &&
    indentOf(text.lines[first - 1] ?? '') <= column
  ) {
    first--;
  }
  return { loose: text.lines.slice(from, first), attached: text.lines.slice(first, to) };
}

/** Where the tail of the last section ends and the words at the foot of the file begin. */
function endOfTail(lines: readonly string[], column: number): number {
  const end = lines.findIndex((line, index) => {
    const next = lines.slice(index).find((one) => !isBlank(one));
    return isBlank(line) && next !== undefined && indentOf(next) <= column;
  });
  return end < 0 ? lines.length : end;
}

function assembled(
  top: readonly string[],
  blocks: readonly RootBlock[],
  footer: readonly string[],
  column: number,
): readonly string[] {
  const rank = (key: string) =>
    SEASON_KEYS.includes(key) ? SEASON_KEYS.indexOf(key) : SEASON_KEYS.length;
  const sorted = [...blocks].sort((a, b) => rank(a.key) - rank(b.key));
  const parts = [
    trimmedBlank(top.map((line) => line.trimEnd())),
    ...sorted.map(({ lead, body, tail }) => {
      const remarks = tail.map((line) => indented(line, indentOf(line) > column ? 2 : 0));
      const below = trimmedBlank(remarks);
      const apart = below.length > 0 && isBlank(remarks[0]);
      return [
        ...lead.map((line) => line.trim()),
        ...body,
        ...(apart ? [''] : []),
        ...withoutRuns(below),
      ];
    }),
    trimmedBlank(footer.map((line) => line.trim())),
  ].filter((part) => part.length > 0);
  return parts.flatMap((part, index) => (index === 0 ? withoutRunsOnTop(part) : ['', ...part]));
}

function withoutRunsOnTop(lines: readonly string[]): readonly string[] {
  return lines.every((line) => isBlank(line) || line.startsWith('#')) ? withoutRuns(lines) : lines;
}
