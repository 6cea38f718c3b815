import chiSquare from '@stdlib/stats-base-dists-chisquare-cdf';
import { requireFinite } from '../numbers/require-finite.ts';
import { normalCdf } from './normal-cdf.ts';

/** Keeps the series within doubles when there are hundreds of degrees of freedom. */
const RESCALE_ABOVE = 1e200;

/**
 * Chi-square distribution, lower tail: P(X <= x), 0 for x <= 0.
 *
 * Formula: Abramowitz & Stegun 1964, Handbook of Mathematical Functions, 26.4.1.
 *
 * @param df degrees of freedom, above 0, whole or not
 * @throws RangeError if x is not finite or df is not above 0
 * @example chiSquareCdf(0, 3) // => 0
 */
export function chiSquareCdf(x: number, df: number): number {
  requireFinite('x and df', [x, df]);
  if (df <= 0) throw new RangeError(`degrees of freedom ${df} are not above 0`);
  return chiSquare(x, df);
}

/**
 * Chi-square distribution, upper tail: P(X > x), 1 for x <= 0. The p value of a rank test.
 *
 * Formula: the finite series for whole degrees of freedom, Abramowitz & Stegun 1964, 26.4.4 (odd)
 * and 26.4.5 (even). All its terms are positive, so small probabilities keep their digits, which
 * 1 - `chiSquareCdf` would lose.
 *
 * @param df degrees of freedom, a whole number of 1 or more
 * @throws RangeError if x is not finite or df is not such a number
 * @example chiSquareUpper(0, 3) // => 1
 */
export function chiSquareUpper(x: number, df: number): number {
  requireFinite('x', [x]);
  if (!Number.isSafeInteger(df) || df < 1) {
    throw new RangeError(`degrees of freedom ${df} are not a whole number of 1 or more`);
  }
  if (x <= 0) return 1;
  const odd = df % 2 === 1;
  const half = x / 2;
  // (x/2)^k / Gamma(k + 1) for k = 0, 1, ... or 1/2, 3/2, ..., each from the one before
  let term = odd ? 2 * Math.sqrt(half / Math.PI) : 1;
  let series = 0;
  let exponent = -half;
  for (let k = odd ? 0.5 : 0; k < df / 2; k++) {
    series += term;
    term *= half / (k + 1);
    if (series > RESCALE_ABOVE) {
      series /= RESCALE_ABOVE;
      term /= RESCALE_ABOVE;
      exponent += Math.log(RESCALE_ABOVE);
    }
  }
  const tail = series === 0 ? 0 : Math.exp(Math.log(series) + exponent);
  return Math.min(1, tail + (odd ? 2 * normalCdf(-Math.sqrt(x)) : 0));
}
