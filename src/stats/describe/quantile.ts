import { quantileSorted } from 'simple-statistics';
import { requireFinite, requireWeights } from '../numbers/require-finite.ts';
import { sum } from '../numbers/sum.ts';

/**
 * Quantile by linear interpolation between order statistics, type 7; `undefined` without values.
 *
 * Units: those of `values`.
 * Formula: h = (n - 1) p + 1, then x[h] interpolated between the neighbours of h.
 * Hyndman & Fan 1996, The American Statistician 50(4):361-365, definition 7.
 *
 * @param values in any order; not modified
 * @param p share from 0 to 1
 * @throws RangeError on a value that is not finite, or a share outside 0 to 1
 * @example quantile([1, 2, 3, 4], 0.25) // => 1.75
 */
export function quantile(values: readonly number[], p: number): number | undefined {
  requireFinite('values', values);
  if (!(p >= 0 && p <= 1)) throw new RangeError(`share ${p} is outside 0 to 1`);
  if (values.length === 0) return undefined;
  // Plain numbers sort several times faster than a list of anything.
  return quantileSorted(Array.from(Float64Array.from(values).sort()), p);
}

/**
 * Median: the middle value, or the mean of the two middle ones; `undefined` without values.
 *
 * Units: those of `values`. It is the type 7 quantile at one half (Hyndman & Fan 1996,
 * The American Statistician 50(4):361-365).
 *
 * @throws RangeError on a value that is not finite
 * @example median([5, 1, 2, 4]) // => 3
 */
export function median(values: readonly number[]): number | undefined {
  return quantile(values, 0.5);
}

/** 1 / the upper quartile of the standard normal distribution, to the four decimals in general use. */
const NORMAL_SCALE = 1.4826;

/**
 * Median absolute deviation about the median, scaled by 1.4826; `undefined` without values.
 *
 * Units: those of `values`. The factor makes it estimate the standard deviation of normal values.
 * Formula: 1.4826 median|x - median(x)|. Hampel 1974, Journal of the American Statistical
 * Association 69:383-393 (citation from memory).
 *
 * @throws RangeError on a value that is not finite
 * @example medianAbsoluteDeviation([1, 5, 2]) // => 1.4826
 */
export function medianAbsoluteDeviation(values: readonly number[]): number | undefined {
  const centre = median(values);
  if (centre === undefined) return undefined;
  const spread = median(values.map((value) => Math.abs(value - centre)));
  return spread === undefined ? undefined : NORMAL_SCALE * spread;
}

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
