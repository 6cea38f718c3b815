import {
  studentizedRangeQuantile,
  studentizedRangeTail,
} from '../distributions/studentized-range.ts';
import { requireFinite } from '../numbers/require-finite.ts';

/** What a family of pairwise comparisons needs to know. */
export interface TukeyKramerInput {
  readonly means: readonly number[];
  /** variances and covariances of the means, in the order of `means` */
  readonly covariance: readonly (readonly number[])[];
  /** degrees of freedom of the error, above 0; Infinity for a known error */
  readonly df: number;
  /** chance that any pair at all is called different when none is */
  readonly alpha: number;
}

/** One comparison: first mean less second mean. */
export interface TukeyKramerPair {
  readonly first: number;
  readonly second: number;
  readonly difference: number;
  readonly se: number;
  /** adjusted for the number of means compared */
  readonly p: number;
  /** half the width of the simultaneous 1 - alpha interval of the difference */
  readonly halfWidth: number;
  readonly differs: boolean;
}

/**
 * All pairwise comparisons of k means by the method of Tukey and Kramer, first < second, in order.
 *
 * Formula: p = P(Q > sqrt(2) |difference| / se), half width = q(1 - alpha) se / sqrt(2), Q the
 * studentized range of k means on df degrees of freedom (Tukey 1953, The problem of multiple
 * comparisons; Kramer 1956, Biometrics 12:307-310), se^2 = c_ii + c_jj - 2 c_ij. Exact where all
 * differences are equally precise; on the safe side for unequal numbers (Hayter 1984, Annals of
 * Statistics 12:61-75), and taken to be so for correlated means, where that is not proved.
 *
 * Units: differences, standard errors and half widths in the units of the means.
 *
 * @returns no pairs for fewer than two means. Two means that differ without any error (se 0) get
 *   p 0; two that agree, p 1.
 * @throws RangeError if sizes do not match or an argument is outside its bounds
 */
export function tukeyKramer(input: TukeyKramerInput): TukeyKramerPair[] {
  const { means, covariance, df, alpha } = input;
  requireFinite('means', means);
  if (covariance.length !== means.length) {
    throw new RangeError(`${means.length} means, but ${covariance.length} rows of covariances`);
  }
  if (!(alpha > 0 && alpha < 1)) throw new RangeError(`alpha ${alpha} is not between 0 and 1`);
  if (means.length < 2) return [];
  const tail = studentizedRangeTail(means.length, df);
  const critical = studentizedRangeQuantile(1 - alpha, means.length, df) / Math.SQRT2;
  return means.flatMap((mean, first) =>
    means.slice(first + 1).map((other, step) => {
      const second = first + 1 + step;
      const difference = mean - other;
      const se = differenceSe(covariance, first, second);
      const halfWidth = critical * se;
      const p = difference === 0 ? 1 : tail((Math.SQRT2 * Math.abs(difference)) / se);
      const differs = Math.abs(difference) > halfWidth;
      return { first, second, difference, se, p, halfWidth, differs };
    }),
  );
}

function differenceSe(
  covariance: readonly (readonly number[])[],
  first: number,
  second: number,
): number {
  const at = (i: number, j: number): number => covariance[i]?.[j] ?? Number.NaN;
  const variance = at(first, first) + at(second, second) - 2 * at(first, second);
  requireFinite('covariance', [variance]);
  return Math.sqrt(Math.max(0, variance));
}
