import { requireFinite } from '../numbers/require-finite.ts';
import { mean } from './mean.ts';

/**
 * Index of alternate (biennial) bearing over successive seasons, on the scale 0 (every year alike)
 * to 1 (every other year empty); `undefined` if no pair of years can be compared.
 *
 * Formula: mean over pairs of neighbouring years of |b - a| / (a + b). Hoblyn, Grubb, Painter &
 * Wates 1936, Journal of Pomology and Horticultural Science 14:39-76; in this mean form Pearce &
 * Dobersek-Urbanc 1967, Journal of Horticultural Science 42 (citation from memory). Other writers
 * double it to a scale of 0 to 2.
 *
 * A pair of two empty years, or with a year missing, is dropped and not counted. The index does not
 * tell a trend from alternation: a crop that doubles each year scores 1/3.
 *
 * @param values yields in year order, 0 or more; `undefined` holds the place of a missing year
 * @returns the index and the number of pairs (`terms`) it is the mean of
 * @throws RangeError on a yield that is not finite or is negative
 * @example alternationIndex([10, 30, 20]) // => { index: 0.35, terms: 2 }
 */
export function alternationIndex(
  values: readonly (number | undefined)[],
): { readonly index: number; readonly terms: number } | undefined {
  const known = values.filter((value) => value !== undefined);
  requireFinite('yields', known);
  if (known.some((value) => value < 0)) throw new RangeError('a yield is negative');
  const terms: number[] = [];
  for (const [at, now] of values.entries()) {
    const before = at === 0 ? undefined : values[at - 1];
    if (before === undefined || now === undefined || before + now === 0) continue;
    terms.push(Math.abs(now - before) / (now + before));
  }
  const index = mean(terms);
  return index === undefined ? undefined : { index, terms: terms.length };
}
