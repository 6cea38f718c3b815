import { median } from './median.ts';

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
