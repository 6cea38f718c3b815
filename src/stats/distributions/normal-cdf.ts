import normal from '@stdlib/stats-base-dists-normal-cdf';
import { requireFinite } from '../numbers/require-finite.ts';

/**
 * Standard normal distribution, lower tail: P(Z <= x). The upper tail is `normalCdf(-x)`, which
 * loses nothing to cancellation.
 *
 * Formula: Abramowitz & Stegun 1964, Handbook of Mathematical Functions, 26.2.2.
 *
 * @throws RangeError if x is not finite
 * @example normalCdf(0) // => 0.5
 */
export function normalCdf(x: number): number {
  requireFinite('x', [x]);
  return normal(x, 0, 1);
}
