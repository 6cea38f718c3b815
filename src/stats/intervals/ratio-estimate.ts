import { tQuantile } from '../distributions/t-quantile.ts';
import { twoSidedTail } from '../distributions/two-sided-tail.ts';
import type { Interval } from '../numbers/interval.ts';
import { requireFinite } from '../numbers/require-finite.ts';
import { sum } from '../numbers/sum.ts';

/** A ratio of totals over sampled units, with its standard error. */
export interface RatioEstimate {
  readonly ratio: number;
  /** `undefined` with a single unit */
  readonly se: number | undefined;
  /** how many units it rests on */
  readonly units: number;
}

/**
 * Ratio of totals, sum y / sum x, with its standard error by linearisation; `undefined` if x sums
 * to 0 (so also without units).
 *
 * Units: those of y over those of x. A unit is what was sampled, such as a tree: y and x hold one
 * number each a unit. A unit with x = 0 counts as a unit.
 * Formula: R = sum y / sum x; se = sqrt(n / (n - 1) * sum (y - R x)^2) / |sum x|, divisor n - 1, no
 * finite population correction. Cochran 1977, Sampling Techniques, 3rd ed., sec. 6.3. The ratio is
 * biased by the order of 1/n, and the standard error runs low with few units.
 *
 * @throws RangeError on a number that is not finite, or unequal lengths
 * @example ratioEstimate([12, 30, 7, 0, 21], [4, 9, 3, 1, 7])?.ratio // => 2.9166666666666665
 */
export function ratioEstimate(
  y: readonly number[],
  x: readonly number[],
): RatioEstimate | undefined {
  requireFinite('y', y);
  requireFinite('x', x);
  if (y.length !== x.length) throw new RangeError(`${y.length} y for ${x.length} x`);
  const units = x.length;
  const base = sum(x);
  if (base === 0) return undefined;
  const ratio = sum(y) / base;
  if (units < 2) return { ratio, se: undefined, units };
  const squares = sum(y.map((value, at) => (value - ratio * (x[at] ?? 0)) ** 2));
  return { ratio, se: Math.sqrt((units / (units - 1)) * squares) / Math.abs(base), units };
}

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
