import student from '@stdlib/stats-base-dists-t-cdf';
import { requireFinite } from '../../src/stats/numbers/require-finite.ts';

/**
 * Student's t distribution, lower tail: P(T <= x). The upper tail is `tCdf(-x, df)`, which loses
 * nothing to cancellation.
 *
 * Formula: Abramowitz & Stegun 1964, Handbook of Mathematical Functions, 26.7.1.
 *
 * @param df degrees of freedom, above 0, whole or not
 * @throws RangeError if x is not finite or df is not above 0
 * @example tCdf(0, 4) // => 0.5
 */
export function tCdf(x: number, df: number): number {
  requireFinite('x and df', [x, df]);
  if (df <= 0) throw new RangeError(`degrees of freedom ${df} are not above 0`);
  return student(x, df);
}
