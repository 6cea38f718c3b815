import type { IsoDate } from './dates.ts';
import type { Order, Sample, Score, TasteWords } from './entries.ts';
import type { Crop } from './ledger.ts';

/**
 * The one order in which everything of a ledger is told, numbered and drawn, whatever the order of its lines: names
 * by key, entries by date and then by what they say. So a figure is a function of what is written alone.
 */

const ZERO = 48;
const NINE = 57;

/**
 * Orders keys as people count: `Y2` before `Y10`. Letters go by their code, so no language and no version of a
 * dictionary has a say; 0 only for the same key.
 */
export function compareKeys(a: string, b: string): number {
  if (a === b) return 0;
  let at = 0;
  let other = 0;
  while (at < a.length && other < b.length) {
    const one = a.charCodeAt(at);
    const two = b.charCodeAt(other);
    if (isDigit(one) && isDigit(two)) {
      const end = endOfDigits(a, at);
      const otherEnd = endOfDigits(b, other);
      const difference = compareWhole(a.slice(at, end), b.slice(other, otherEnd));
      if (difference !== 0) return difference;
      at = end;
      other = otherEnd;
    } else {
      if (one !== two) return one - two;
      at++;
      other++;
    }
  }
  return a.length - at - (b.length - other) || compareText(a, b);
}

function isDigit(code: number): boolean {
  return code >= ZERO && code <= NINE;
}

function endOfDigits(text: string, from: number): number {
  let end = from + 1;
  while (end < text.length && isDigit(text.charCodeAt(end))) end++;
  return end;
}

/** Whole numbers of any length, as text. */
function compareWhole(a: string, b: string): number {
  const one = a.replace(/^0+/, '');
  const two = b.replace(/^0+/, '');
  return one.length - two.length || compareText(one, two);
}

export function compareText(a: string, b: string): number {
  return a === b ? 0 : a < b ? -1 : 1;
}

/** Entries of a map by their keys. */
export function byKey<Value>(
  entries: Iterable<readonly [string, Value]>,
): (readonly [string, Value])[] {
  return inOrderOf([...entries], ([a], [b]) => compareKeys(a, b));
}

/** An entry of a season file, as far as its place among others goes. */
export interface Dated {
  readonly on: IsoDate;
  readonly tree?: { readonly id: string } | undefined;
  readonly crop?: Crop | undefined;
}

/** Entries of a section by date, tree and crop, then by all that they say. Those that say the same stay as they come. */
export function byDate<Entry extends Dated>(entries: readonly Entry[]): readonly Entry[] {
  return inOrderOf(
    entries,
    (a, b) =>
      compareText(a.on, b.on) ||
      compareKeys(a.tree?.id ?? '', b.tree?.id ?? '') ||
      compareText(a.crop ?? '', b.crop ?? '') ||
      compareText(contentOf(a), contentOf(b)),
  );
}

/** Samples of a sitting by their labels. */
export function byLabel(samples: readonly Sample[]): readonly Sample[] {
  return inOrderOf(samples, (a, b) => compareKeys(a.label, b.label));
}

/** Scores of a sitting by taster, sample, and trait as the ledger lists them. */
export function bySheet(scores: readonly Score[], traits: readonly string[]): readonly Score[] {
  return inOrderOf(
    scores,
    (a, b) =>
      compareKeys(a.taster.key, b.taster.key) ||
      compareKeys(a.sample.label, b.sample.label) ||
      traits.indexOf(a.trait) - traits.indexOf(b.trait),
  );
}

/** Words of a sitting by taster and sample. */
export function bySpeaker(words: readonly TasteWords[]): readonly TasteWords[] {
  return inOrderOf(
    words,
    (a, b) =>
      compareKeys(a.taster.key, b.taster.key) || compareKeys(a.sample.label, b.sample.label),
  );
}

/** Orders of a sitting by taster. */
export function byTaster(orders: readonly Order[]): readonly Order[] {
  return inOrderOf(orders, (a, b) => compareKeys(a.taster.key, b.taster.key));
}

/** Most lists come in order: they are only looked through, and kept as they are. */
function inOrderOf<Thing>(
  things: readonly Thing[],
  compare: (a: Thing, b: Thing) => number,
): Thing[] {
  for (let at = 1; at < things.length; at++) {
    if (compare(things[at - 1] as Thing, things[at] as Thing) > 0) return things.toSorted(compare);
  }
  return things as Thing[];
}

/** All that an entry says, as text: where it stands in its file left out, and things it names told by their keys. */
function contentOf(entry: object): string {
  return JSON.stringify(inPlainForm(entry), (key, value: unknown) => {
    if (key === 'at') return undefined;
    if (key === 'tree') return (value as Sample['tree']).id;
    if (key === 'taster') return (value as Score['taster']).key;
    // Of a score; a pick has a word of the same name.
    if (key === 'sample' && typeof value === 'object') return (value as Sample).label;
    return value;
  });
}

/** An event that is only told stands among the others by its word. */
function inPlainForm(entry: object): object {
  if (!('says' in entry && 'word' in entry)) return entry;
  const { says, word, ...rest } = entry;
  return Object.assign(rest, { kind: word }, says);
}
