import { requireWeights } from '../numbers/require-finite.ts';
import { sum } from '../numbers/sum.ts';

/**
 * Shares closer than this count as reached: in doubles 0.7 and 0.1 add up to 0.7999999999999999,
 * and without a margin the exact share of 0.8 would be missed.
 */
const SHARE_MARGIN = 1e-12;

/**
 * The smallest value by which at least `share` of the total weight has come, counting up from the
 * smallest value; `undefined` if no weight is above 0. No interpolation: the answer is one of the
 * values, and one of weight above 0 (at share 0 the first such).
 *
 * Units: those of `values`; the unit of the weights does not matter.
 * Formula: min { v : sum of w where value <= v, over sum of w, >= share }, the inverse of the
 * weighted empirical distribution (definition 1 of Hyndman & Fan 1996, The American Statistician
 * 50(4):361-365, with weights).
 *
 * @param share from 0 to 1
 * @throws RangeError on a number that is not finite, a negative weight, unequal lengths, or a share
 * outside 0 to 1
 * @example weightedQuantile([200, 203, 209], [1, 1, 2], 0.5) // => 203
 */
export function weightedQuantile(
  values: readonly number[],
  weights: readonly number[],
  share: number,
): number | undefined {
  requireWeights(values, weights);
  if (!(share >= 0 && share <= 1)) throw new RangeError(`share ${share} is outside 0 to 1`);
  const rising = values
    .map((value, at) => ({ value, weight: weights[at] ?? 0 }))
    .filter(({ weight }) => weight > 0)
    .toSorted((a, b) => a.value - b.value);
  const total = sum(weights);
  let come = 0;
  for (const { value, weight } of rising) {
    come += weight;
    if (come / total >= share - SHARE_MARGIN) return value;
  }
  return rising.at(-1)?.value;
}
