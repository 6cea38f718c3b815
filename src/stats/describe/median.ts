import { quantile } from './quantile.ts';

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
