import { tQuantile } from '../distributions/t-quantile.ts';

/**
 * Least significant difference of two means: the smallest that a t test at `alpha` (two-sided) calls
 * real. It guards one comparison only, not a whole table of them; for that see `tukeyKramer`.
 *
 * Formula: t(1 - alpha / 2, df) se (Fisher 1935, The Design of Experiments).
 *
 * Units: those of `differenceSe`.
 *
 * @param differenceSe standard error of the difference, not of a mean; 0 or above
 * @param df degrees of freedom of that standard error, above 0
 * @param alpha a fraction between 0 and 1
 * @throws RangeError if an argument is outside that
 * @example leastSignificantDifference(0, 12, 0.05) // => 0
 */
export function leastSignificantDifference(
  differenceSe: number,
  df: number,
  alpha: number,
): number {
  if (!(differenceSe >= 0 && Number.isFinite(differenceSe))) {
    throw new RangeError(`standard error ${differenceSe} is not 0 or above`);
  }
  if (!(alpha > 0 && alpha < 1)) throw new RangeError(`alpha ${alpha} is not between 0 and 1`);
  return tQuantile(1 - alpha / 2, df) * differenceSe;
}
