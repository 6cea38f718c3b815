import normal from '@stdlib/stats-base-dists-normal-quantile';
import { normalCdf } from './normal-cdf.ts';

/** Below this the library's quantile loses digits, and from 1e-17 down it is minus infinity. */
const FAR_TAIL = 1e-3;

/** exp(-z^2 / 2) / sqrt(2 pi) */
const density = (z: number): number => Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI);

/**
 * Newton's method on log P(Z <= z) = log p. The logarithm is concave, and the start lies left of
 * the root since P(Z <= z) < exp(-z^2 / 2), so the steps go up to the root and never past it.
 */
function farTail(p: number): number {
  let z = -Math.sqrt(-2 * Math.log(p));
  for (let step = 0; step < 12; step++) {
    const reached = normalCdf(z);
    z -= (Math.log(reached / p) * reached) / density(z);
  }
  return z;
}

/**
 * Quantile of the standard normal distribution: the x with P(Z <= x) = p.
 *
 * Formula: inverse of Abramowitz & Stegun 1964, Handbook of Mathematical Functions, 26.2.2.
 *
 * @param p a probability above 0 and below 1, normal in doubles (2.3e-308 or more)
 * @throws RangeError if it is not
 * @example normalQuantile(0.975) // => 1.9599639845400538
 */
export function normalQuantile(p: number): number {
  if (!(p >= 2.3e-308 && p < 1)) throw new RangeError(`probability ${p} is not between 0 and 1`);
  return p < FAR_TAIL ? farTail(p) : normal(p, 0, 1);
}
