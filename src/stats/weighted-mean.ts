import { requireWeights } from './require-weights.ts';
import { sum } from './sum.ts';

/**
 * Weighted mean: sum of weight times value over sum of weight; `undefined` if no weight is above 0.
 *
 * Units: those of `values`; the unit of the weights does not matter.
 *
 * @throws RangeError on a number that is not finite, a negative weight, or unequal lengths
 * @example weightedMean([1, 4], [2, 1]) // => 2
 */
export function weightedMean(
  values: readonly number[],
  weights: readonly number[],
): number | undefined {
  requireWeights(values, weights);
  const total = sum(weights);
  if (total === 0) return undefined;
  return sum(values.map((value, at) => value * (weights[at] ?? 0))) / total;
}
