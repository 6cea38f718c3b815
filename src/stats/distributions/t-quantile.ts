import student from '@stdlib/stats-base-dists-t-quantile';
import { requireFinite } from '../numbers/require-finite.ts';

/**
 * Quantile of Student's t distribution: the x with P(T <= x) = p.
 *
 * Formula: inverse of Abramowitz & Stegun 1964, Handbook of Mathematical Functions, 26.7.1.
 * Accuracy: relative error about 1e-14 where p is further than 1e-5 from one half; nearer, the
 * quantile may be off by up to 1e-6, which no interval asks for.
 *
 * @param p a probability above 0 and below 1
 * @param df degrees of freedom, above 0, whole or not
 * @throws RangeError if p or df is outside that, or the quantile is too great for a double
 * @example tQuantile(0.5, 7) // => 0
 */
export function tQuantile(p: number, df: number): number {
  requireFinite('df', [df]);
  if (!(p > 0 && p < 1)) throw new RangeError(`probability ${p} is not between 0 and 1`);
  if (df <= 0) throw new RangeError(`degrees of freedom ${df} are not above 0`);
  const x = student(p, df);
  requireFinite('quantile', [x]);
  return x;
}
