import snedecor from '@stdlib/stats-base-dists-f-cdf';
import { bracketedRoot } from '../numbers/bracketed-root.ts';
import { requireFinite } from '../numbers/require-finite.ts';

function requireArguments(x: number, d1: number, d2: number): void {
  requireFinite('x and df', [x, d1, d2]);
  if (d1 <= 0 || d2 <= 0) throw new RangeError(`degrees of freedom ${d1}, ${d2} are not above 0`);
}

/**
 * F distribution, lower tail: P(F <= x), 0 for x <= 0.
 *
 * Formula: Abramowitz & Stegun 1964, Handbook of Mathematical Functions, 26.6.1.
 * Accuracy: relative error about 1e-13 where x is above 0.01; towards 0 it grows as 1e-16 d2 / x.
 *
 * @param d1 degrees of freedom of the numerator, above 0
 * @param d2 degrees of freedom of the denominator, above 0
 * @throws RangeError if x is not finite or the degrees of freedom are not above 0
 * @example fCdf(0, 2, 3) // => 0
 */
export function fCdf(x: number, d1: number, d2: number): number {
  requireArguments(x, d1, d2);
  return snedecor(x, d1, d2);
}

/**
 * F distribution, upper tail: P(F > x), 1 for x <= 0. The p value of an analysis of variance.
 *
 * Formula: the lower tail of 1/F at 1/x, with the degrees of freedom exchanged (Abramowitz & Stegun
 * 1964, 26.6.9), so that small probabilities keep their digits.
 * Accuracy: relative error up to about 1e-16 d1 x, so 1e-12 at F = 1000 on 10 degrees of freedom.
 *
 * @param d1 degrees of freedom of the numerator, above 0
 * @param d2 degrees of freedom of the denominator, above 0
 * @throws RangeError if x is not finite or the degrees of freedom are not above 0
 * @example fUpper(0, 2, 3) // => 1
 */
export function fUpper(x: number, d1: number, d2: number): number {
  requireArguments(x, d1, d2);
  return x <= 0 ? 1 : snedecor(1 / x, d2, d1);
}

/**
 * Quantile of the F distribution: the x with P(F <= x) = p.
 *
 * Formula: inverse of Abramowitz & Stegun 1964, Handbook of Mathematical Functions, 26.6.1.
 * Method: a bracketed root in ln x of the logarithm of whichever tail is smaller.
 * Accuracy: relative error below 1e-10 for quantiles from 1e-5 to 1e5, about 1e-4 at 1e-12 or 1e12.
 *
 * @param p a probability above 0 and below 1
 * @param d1 degrees of freedom of the numerator, above 0, whole or not
 * @param d2 degrees of freedom of the denominator, above 0, whole or not
 * @throws RangeError if an argument is outside that
 */
export function fQuantile(p: number, d1: number, d2: number): number {
  if (!(p > 0 && p < 1)) throw new RangeError(`probability ${p} is not between 0 and 1`);
  const tooLow = (logX: number): number => {
    const x = Math.exp(logX);
    const gap =
      p <= 0.5
        ? Math.log(fCdf(x, d1, d2)) - Math.log(p)
        : Math.log1p(-p) - Math.log(fUpper(x, d1, d2));
    return Math.max(-1e3, Math.min(1e3, gap));
  };
  let low = 0;
  let high = 0;
  for (let width = 1; tooLow(low) > 0; width *= 2) low -= width;
  for (let width = 1; tooLow(high) < 0; width *= 2) high += width;
  return Math.exp(bracketedRoot(tooLow, low, high, 1e-14));
}
