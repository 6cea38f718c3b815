import { didYouMean } from '../../diagnostics/did-you-mean.ts';
import { type CellField, type Fields, type Holds, isCalled, remarks } from '../../entries/field.ts';
import { DEFECTS, type Defect } from '../../model/entries.ts';
import type { Dimension } from '../../model/quantity.ts';
import { looksNumeric } from '../typed-number.ts';
import {
  type LineReading,
  meant,
  notUnderstood,
  peek,
  slip,
  take,
  takeAmount,
  takeNumber,
  takeWhole,
} from './line-reading.ts';
import { findWord } from './names.ts';
import type { Token } from './tokens.ts';

/** What stands behind the word of a field. */
export type TypedFieldKind =
  | { readonly kind: 'whole'; readonly least?: number }
  | { readonly kind: 'number' }
  | { readonly kind: 'amount'; readonly dimension: Dimension }
  | { readonly kind: 'choice'; readonly of: readonly string[] }
  | { readonly kind: 'text' };

/** A field of an entry: the word that is typed, the key in the file, and what follows the word. */
export interface TypedField {
  readonly word: string;
  readonly key: string;
  readonly takes: TypedFieldKind;
  /** What people call it else. */
  readonly also: readonly string[];
}

/**
 * The fields of an entry that are typed with a word before them. What says which entry it is and
 * what has no word (weights, a product) is left out.
 */
export function typedFields(fields: Fields): readonly TypedField[] {
  const wordless = new Set(['on', 'tree', 'crop', ...Object.keys(remarks)]);
  return Object.entries(fields)
    .filter(([key]) => !wordless.has(key))
    .flatMap(([key, one]) => wordsOf(key, one));
}

function wordsOf(key: string, { words = [key], holds, also }: CellField): readonly TypedField[] {
  return words.map((word) => ({ word, key, takes: takenFrom(holds), also }));
}

function takenFrom(holds: Holds): TypedFieldKind {
  switch (holds.kind) {
    case 'whole':
    case 'amount':
    case 'choice':
      return holds;
    case 'number':
      return { kind: 'number' };
    default:
      return { kind: 'text' };
  }
}

export const REMARKS: readonly TypedField[] = Object.entries(remarks).flatMap(([key, one]) =>
  wordsOf(key, one),
);

export type Values = Record<string, unknown>;

/**
 * The rest of a line: fields in any order, and what `loose` makes of words that are none. A word
 * that nobody understands is a slip, and reading goes on behind it.
 */
export function takeFields(
  reading: LineReading,
  statement: string,
  fields: readonly TypedField[],
  values: Values,
  loose: (token: Token) => boolean,
  alsoKnown: readonly string[] = [],
): void {
  const all = [...fields, ...REMARKS];
  for (let token = peek(reading); token !== undefined; token = peek(reading)) {
    const text = token.text.toLowerCase();
    const found = all.find(({ word }) => word === text);
    if (found === undefined) {
      if (loose(token)) continue;
      take(reading);
      const known = [...all.map(({ word }) => word), ...alsoKnown];
      const called = all.find((one) => isCalled(one, text))?.word;
      notUnderstood(reading, token, statement, known, called);
      // Its number is no weight of a fruit.
      if (called !== undefined && looksNumeric(peek(reading)?.text ?? '')) take(reading);
      continue;
    }
    take(reading);
    if (values[found.key] !== undefined) {
      slip(reading, token, `${found.word} is said twice`, 'keep the one that is meant');
    }
    const value = takeValue(reading, token, found.takes);
    if (value !== undefined) values[found.key] = value;
  }
}

/** The value behind a word; undefined with a slip. */
export function takeValue(reading: LineReading, word: Token, takes: TypedFieldKind): unknown {
  switch (takes.kind) {
    case 'whole':
      return takeWhole(reading, word, takes.least);
    case 'number':
      return takeNumber(reading, word);
    case 'amount':
      return takeAmount(reading, word, takes.dimension);
    case 'choice': {
      const token = take(reading);
      const chosen = token && findWord(takes.of, token.text);
      if (chosen === undefined) {
        const known = takes.of.join(', ');
        const advice = meant(token && didYouMean(token.text, takes.of));
        slip(reading, token ?? word, `${word.text} needs one of ${known}`, advice);
      }
      return chosen;
    }
    case 'text': {
      const token = take(reading);
      if (token === undefined) slip(reading, word, `${word.text} needs a text after it`);
      return token?.text;
    }
  }
}

/** A number of spoiled fruit with the word for it behind, as `2 split` and not `split 2`. */
export interface SpoiledFirst {
  readonly number: Token;
  readonly word: Token;
  readonly defect: Defect;
}

/**
 * The next two words where the number stands before its defect: `2 split`, `2 split 1 bird`. In
 * `44 split 1` the number before is a weight, since the one behind is of the split.
 */
export function peekSpoiledFirst(reading: LineReading): SpoiledFirst | undefined {
  const number = peek(reading);
  const word = peek(reading, 1);
  const defect = word && defectOf(word);
  if (number === undefined || word === undefined || defect === undefined) return undefined;
  if (!/^\d{1,4},?$/.test(number.text)) return undefined;
  // Along `2 split 1 bird` every number has its word behind it, along `44 split 1 bird 2` before it.
  for (let ahead = 2; ; ahead += 2) {
    const next = peek(reading, ahead);
    if (next === undefined || !looksNumeric(next.text)) break;
    const after = peek(reading, ahead + 1);
    if (after === undefined || defectOf(after) === undefined) return undefined;
  }
  return { number: { ...number, text: number.text.replace(/,$/, '') }, word, defect };
}

export function takeSpoiledFirst(reading: LineReading): void {
  take(reading);
  take(reading);
}

function defectOf({ text, isQuoted }: Token): Defect | undefined {
  return isQuoted ? undefined : DEFECTS.find((one) => one === text.toLowerCase().replace(/,$/, ''));
}
