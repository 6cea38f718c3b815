import { SECTIONS } from '../../entries/catalogue.ts';
import { cultivar } from '../../entries/cultivar.ts';
import { orderedKeys } from '../../entries/derive/key-order.ts';
import { SEASON_KEYS } from '../../entries/derive/schemas.ts';
import { tree } from '../../entries/tree.ts';
import { trial } from '../../entries/trial.ts';
import { compareText } from '../../model/canonical-order.ts';
import { plainText } from '../same-value.ts';
import { indentOf } from '../text-lines.ts';
import type { VersionPart } from './part.ts';
import { dateIn } from './partners.ts';

/** What is known while two versions are joined. */
export interface Joining {
  /** Whether it is the file of a season. */
  readonly season: boolean;
  /** Keeps something that the person is to know, though nothing stands in the way. */
  note(text: string): void;
  /** How parts go that both sides added at one place. */
  orderAt(path: readonly string[]): (a: VersionPart, b: VersionPart) => number;
}

export function beginJoining(season: boolean, notes: Set<string>): Joining {
  return {
    season,
    note: (text) => {
      notes.add(text);
    },
    orderAt: (path) => (a, b) => {
      if (a.pair !== undefined && b.pair !== undefined) {
        const [one, other] = [a.pair.key.text, b.pair.key.text];
        return byKeys(season, path, one, other);
      }
      return (
        compareText(dateIn(a), dateIn(b)) || compareText(plainText(a.value), plainText(b.value))
      );
    },
  };
}

/** Keys in the order in which they are written; others by the alphabet. */
function byKeys(season: boolean, path: readonly string[], one: string, other: string): number {
  const order = season ? seasonOrder(path, one, other) : (ORDERS[path.length] ?? []);
  const place = (key: string) => (order.includes(key) ? order.indexOf(key) : order.length);
  return place(one) - place(other) || compareText(one, other);
}

/** Of the keys of ledger.yaml, and of those of a cultivar or a tree. */
const ORDERS: readonly (readonly string[])[] = [
  Object.keys(trial.fields),
  // What both have, a note, comes last.
  [...Object.keys(cultivar.fields), ...Object.keys(tree.fields)].filter(
    (key, at, all) => all.lastIndexOf(key) === at,
  ),
];

function seasonOrder(path: readonly string[], ...keys: readonly string[]): readonly string[] {
  const section = SECTIONS.find((name) => name === path[0]);
  if (section === undefined) return path.length === 0 ? SEASON_KEYS : [];
  const entry = Object.fromEntries(keys.map((key) => [key, 1]));
  if (path.length === 2) return orderedKeys(section, entry);
  return path.join('.') === 'tastings.*.samples.*' ? orderedKeys('samples', entry) : [];
}

/** Two versions of some lines that do not go together. */
export interface Clash {
  readonly ours: readonly string[];
  readonly theirs: readonly string[];
}

/** A line of the joined text, or a place where only a person can say what is right. */
export type Chunk = string | Clash;

export function isLineChunk(chunk: Chunk): chunk is string {
  return typeof chunk === 'string';
}

/** Lines set in by some columns more, or fewer. */
export function setIn(lines: readonly string[], by: number): readonly string[] {
  if (by === 0) return lines;
  return lines.map((line) => {
    if (line.trim() === '') return line;
    return by > 0 ? ' '.repeat(by) + line : line.slice(Math.min(-by, indentOf(line)));
  });
}

/** The same for lines and for both sides of what clashes. */
export function chunksSetIn(chunks: readonly Chunk[], by: number): readonly Chunk[] {
  if (by === 0) return chunks;
  return chunks.map((chunk) =>
    isLineChunk(chunk)
      ? (setIn([chunk], by)[0] ?? '')
      : { ours: setIn(chunk.ours, by), theirs: setIn(chunk.theirs, by) },
  );
}
