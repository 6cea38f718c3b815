import { DEFECTS, type Defect } from '../../model/entries.ts';
import { looksNumeric } from '../typed-number.ts';
import { type LineReading, peek, take } from './line-reading.ts';
import type { Token } from './tokens.ts';

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
