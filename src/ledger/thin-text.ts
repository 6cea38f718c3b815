import { BlockValues } from './block-values.ts';
import { endOfLine, indentAt, isItem, lineAfter } from './line-ends.ts';
import { type Collection, OneLineValues } from './one-line-value.ts';

/** A text of YAML with its plain entries taken out. */
export interface ThinText {
  /** What is left: a stand-in of the same kind where one or more lines stood. */
  readonly text: string;
  /** What the lines hold, by their stand-in. */
  readonly runs: ReadonlyMap<string, Run>;
}

/** Entries below one another that were taken out together: items of a list, or pairs of a map, each on a line. */
export type Run =
  | {
      readonly kind: 'items';
      readonly items: readonly Collection[];
      /** How many lines each item has. */
      readonly lines: readonly number[];
    }
  | { readonly kind: 'pairs'; readonly pairs: readonly (readonly [string, Collection])[] };

/** What whole lines say, for who reads a text and soon the same text again with a line more. */
export type KnownLines = Map<string, Collection>;

/** No one types it, and a text that holds it all the same is left as it is. */
export const MARK = '\ue000';

/**
 * Takes the entries of a text that are in their plainest form out of it: `- { ... }`, `key: [ ... ]`, and items of a
 * list that are maps of lines (`block-values.ts`); undefined if there are none. They are nearly all of a season file,
 * and reading them apart spares a general reader of YAML its work.
 *
 * Whether the lines stand where they mean what they look like (and not, say, within a longer text) is
 * for the reader of the thin text to find out: each stand-in must come back as an item of a list
 * without brackets, or as a pair of such a map.
 */
export function thinText(text: string, known?: KnownLines): ThinText | undefined {
  // A key with a question mark may be a whole list: too rare to reckon with.
  if (text.includes(MARK) || /^[ -]*\?(?:\s|$)/m.test(text)) return undefined;
  const values = new OneLineValues(text);
  const blocks = new BlockValues(text, values);
  const runs = new Map<string, Run>();
  const left: string[] = [];
  let copied = 0;
  let at = 0;
  while (at < text.length) {
    const taken = takeRun(text, at, { values, blocks, known });
    if (taken === undefined) {
      at = lineAfter(text, at);
      continue;
    }
    const mark = `${MARK}${runs.size}`;
    const standIn = taken.run.kind === 'items' ? `- [${mark}]` : `${mark}: {}`;
    left.push(text.slice(copied, at), ' '.repeat(taken.indent), standIn, '\n');
    runs.set(mark, taken.run);
    at = taken.end;
    copied = at;
  }
  if (runs.size === 0) return undefined;
  left.push(text.slice(copied));
  return { text: left.join(''), runs };
}

interface Taken {
  readonly run: Run;
  readonly indent: number;
  readonly end: number;
}

const SPACE = 32;

interface Readers {
  readonly values: OneLineValues;
  readonly blocks: BlockValues;
  readonly known: KnownLines | undefined;
}

/** The run of entries from an offset on, all of one kind and indented alike. */
function takeRun(text: string, start: number, readers: Readers): Taken | undefined {
  const indent = indentAt(text, start);
  return isItem(text, start + indent)
    ? takeItems(text, start, indent, readers)
    : takePairs(text, start, indent, readers.values);
}

function takeItems(
  text: string,
  start: number,
  indent: number,
  { values, blocks, known }: Readers,
): Taken | undefined {
  const items: Collection[] = [];
  const lines: number[] = [];
  let end = start;
  while (end < text.length && indentAt(text, end) === indent && isItem(text, end + indent)) {
    const line = known === undefined ? '' : text.slice(end, lineAfter(text, end));
    const before = known?.get(line);
    if (before !== undefined) {
      items.push(before);
      lines.push(1);
      end += line.length;
      continue;
    }
    const from = end + indent + '- '.length;
    const value = values.collectionAt(from);
    const next = value === undefined ? -1 : endOfLine(text, values.end);
    if (value !== undefined && next >= 0) {
      known?.set(line, value);
      items.push(value);
      lines.push(1);
      end = next;
      continue;
    }
    const map = blocks.mapAt(from, indent + '- '.length);
    if (map === undefined) break;
    items.push(map);
    lines.push(blocks.lines);
    end = blocks.end;
  }
  return end === start ? undefined : { run: { kind: 'items', items, lines }, indent, end };
}

function takePairs(
  text: string,
  start: number,
  indent: number,
  values: OneLineValues,
): Taken | undefined {
  const pairs: [string, Collection][] = [];
  let end = start;
  while (end < text.length && indentAt(text, end) === indent) {
    const key = values.keyAt(end + indent);
    if (key === undefined || text.charCodeAt(values.end) !== SPACE) break;
    const value = values.collectionAt(values.end + 1);
    const next = value === undefined ? -1 : endOfLine(text, values.end);
    if (value === undefined || next < 0) break;
    pairs.push([key, value]);
    end = next;
  }
  return end === start ? undefined : { run: { kind: 'pairs', pairs }, indent, end };
}

/**
 * Puts the lines back into what was read of the thin text; undefined if a key of a map would then
 * come twice.
 */
export function filled(value: unknown, runs: ThinText['runs']): unknown {
  if (typeof value !== 'object' || value === null) return value;
  if (Array.isArray(value)) {
    const list: unknown[] = [];
    for (const item of value) {
      const mark: unknown = Array.isArray(item) ? item[0] : undefined;
      const run = typeof mark === 'string' ? runs.get(mark) : undefined;
      if (run?.kind === 'items') for (const one of run.items) list.push(one);
      else {
        const inner = filled(item, runs);
        if (inner === undefined) return undefined;
        list.push(inner);
      }
    }
    return list;
  }
  const map: Record<string, unknown> = {};
  for (const [key, inner] of Object.entries(value)) {
    const run = runs.get(key);
    const pairs = run?.kind === 'pairs' ? run.pairs : [[key, filled(inner, runs)] as const];
    for (const [own, what] of pairs) {
      if (what === undefined || Object.hasOwn(map, own)) return undefined;
      map[own] = what;
    }
  }
  return map;
}
