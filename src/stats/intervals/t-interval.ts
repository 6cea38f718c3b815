import { tQuantile } from '../distributions/t-quantile.ts';
import { twoSidedTail } from '../distributions/two-sided-tail.ts';
import type { Interval } from '../numbers/interval.ts';
import { requireFinite } from '../numbers/require-finite.ts';

/**
 * Two-sided interval estimate -+ t se, with Student's t on `df` degrees of freedom.
 *
 * Units: those of `estimate`, which `se` shares.
 * Formula: Student 1908, Biometrika 6:1-25; for a ratio of totals, Cochran 1977, Sampling
 * Techniques, 3rd ed., sec. 6.3, with df = units - 1.
 *
 * @param se standard error, 0 or more
 * @param df degrees of freedom, above 0
 * @param confidence a fraction, such as 0.95
 * @throws RangeError if an argument is outside that or not finite
 * @example tInterval(5, 0, 3, 0.95) // => { low: 5, high: 5 }
 */
export function tInterval(estimate: number, se: number, df: number, confidence: number): Interval {
  requireFinite('estimate and standard error', [estimate, se]);
  if (se < 0) throw new RangeError(`standard error ${se} is negative`);
  const reach = -tQuantile(twoSidedTail(confidence), df) * se;
  return { low: estimate - reach, high: estimate + reach };
}
