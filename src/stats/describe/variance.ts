import { sum } from '../numbers/sum.ts';
import { mean } from './mean.ts';

/**
 * Sample standard deviation, divisor n - 1; `undefined` for fewer than two values.
 *
 * Units: those of `values`.
 * Method: two passes, the second corrected by the sum of the deviations, which is not quite 0 once
 * the mean is rounded. Chan, Golub & LeVeque 1983, The American Statistician 37:242-247.
 *
 * @throws RangeError on a value that is not finite
 * @example sampleSd([2, 4, 4, 4, 5, 5, 7, 9]) // => 2.138089935299395
 */
export function sampleSd(values: readonly number[]): number | undefined {
  const centre = mean(values);
  if (centre === undefined || values.length < 2) return undefined;
  const deviations = values.map((value) => value - centre);
  const left = sum(deviations);
  const squares = sum(deviations.map((deviation) => deviation * deviation));
  return Math.sqrt(Math.max(0, squares - (left * left) / values.length) / (values.length - 1));
}

/**
 * Variance within groups, pooled: sum of squares about the groups' own means / (values - groups).
 * Groups of one value or none add nothing; 0 if all groups are such.
 *
 * Units: the square of those of the values.
 */
export function pooledVariance(groups: readonly (readonly number[])[]): number {
  const squares: number[] = [];
  let freedom = 0;
  for (const group of groups) {
    if (group.length < 2) continue;
    squares.push(squareAboutMean(group));
    freedom += group.length - 1;
  }
  return freedom === 0 ? 0 : sum(squares) / freedom;
}

function squareAboutMean(group: readonly number[]): number {
  const centre = mean(group) ?? 0;
  let square = 0;
  for (const value of group) square += (value - centre) ** 2;
  return square;
}
