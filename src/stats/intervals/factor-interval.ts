import { tQuantile } from '../distributions/t-quantile.ts';
import { twoSidedTail } from '../distributions/two-sided-tail.ts';
import type { Interval } from '../numbers/interval.ts';

/**
 * Interval of a positive figure that varies by a factor: figure x exp(± t s / sqrt n), never below
 * 0 (Limpert, Stahel & Abbt 2001, BioScience 51:341-352, with Student's t for a spread that is
 * itself estimated).
 *
 * Units: those of the figure.
 *
 * @param figure above 0
 * @param sd standard deviation of the natural logarithm of one unit
 * @param units how many the figure is the mean of
 * @param df degrees of freedom of `sd`
 * @param confidence a fraction, such as 0.95
 */
export function factorInterval(
  figure: number,
  { sd, units, df }: { readonly sd: number; readonly units: number; readonly df: number },
  confidence: number,
): Interval {
  const by = Math.exp((-tQuantile(twoSidedTail(confidence), df) * sd) / Math.sqrt(units));
  return { low: figure / by, high: figure * by };
}
