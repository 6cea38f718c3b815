import { type Collection, OneLineValues } from './one-line-value.ts';

/** A text of YAML with its one-line entries taken out. */
export interface ThinText {
  /** What is left: a stand-in of the same kind where one or more lines stood. */
  readonly text: string;
  /** What the lines hold, by their stand-in. */
  readonly runs: ReadonlyMap<string, Run>;
}

/** Lines below one another that were taken out together: items of a list, or pairs of a map. */
export type Run =
  | { readonly kind: 'items'; readonly items: readonly Collection[] }
  | { readonly kind: 'pairs'; readonly pairs: readonly (readonly [string, Collection])[] };

/** No one types it, and a text that holds it all the same is left as it is. */
export const MARK = '\ue000';

/**
 * Takes the lines of a text that are a whole entry in its plainest form, `- { ... }` or `key: [ ... ]`, out
 * of it; undefined if there are none. They are nearly all of a season file, and reading them apart
 * spares a general reader of YAML its work.
 *
 * Whether the lines stand where they mean what they look like (and not, say, within a longer text) is
 * for the reader of the thin text to find out: each stand-in must come back as an item of a list
 * without brackets, or as a pair of such a map.
 */
export function thinText(text: string): ThinText | undefined {
  // A key with a question mark may be a whole list: too rare to reckon with.
  if (text.includes(MARK) || /^[ -]*\?(?:\s|$)/m.test(text)) return undefined;
  const lines = new OneLineValues(text);
  const runs = new Map<string, Run>();
  const left: string[] = [];
  let copied = 0;
  let at = 0;
  while (at < text.length) {
    const taken = takeRun(text, at, lines);
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

/** The run of lines from an offset on, all of one kind and indented alike. */
function takeRun(text: string, start: number, lines: OneLineValues): Taken | undefined {
  let indent = start;
  while (text.charCodeAt(indent) === SPACE) indent++;
  indent -= start;
  const items: Collection[] = [];
  const pairs: [string, Collection][] = [];
  const isList = text.charCodeAt(start + indent) === DASH;
  let end = start;
  while (end < text.length && isIndented(text, end, indent)) {
    const from = end + indent;
    const key = isList ? undefined : lines.keyAt(from);
    if (isList ? !isItem(text, from) : key === undefined) break;
    const value = lines.collectionAt(isList ? from + 2 : lines.end);
    const next = value === undefined ? -1 : endOfLine(text, lines.end);
    if (value === undefined || next < 0) break;
    if (key === undefined) items.push(value);
    else pairs.push([key, value]);
    end = next;
  }
  if (end === start) return undefined;
  const run: Run = isList ? { kind: 'items', items } : { kind: 'pairs', pairs };
  return { run, indent, end };
}

const [LINE_FEED, RETURN, SPACE, DASH] = [10, 13, 32, 45];

function isIndented(text: string, at: number, indent: number): boolean {
  for (let k = at; k < at + indent; k++) if (text.charCodeAt(k) !== SPACE) return false;
  return true;
}

function isItem(text: string, at: number): boolean {
  return text.charCodeAt(at) === DASH && text.charCodeAt(at + 1) === SPACE;
}

/** Where the next line begins if nothing but spaces is left of this one; -1 otherwise. */
function endOfLine(text: string, at: number): number {
  let end = at;
  while (text.charCodeAt(end) === SPACE) end++;
  if (end === text.length) return end;
  if (text.charCodeAt(end) === RETURN) end++;
  return text.charCodeAt(end) === LINE_FEED ? end + 1 : -1;
}

function lineAfter(text: string, at: number): number {
  const end = text.indexOf('\n', at);
  return end < 0 ? text.length : end + 1;
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
