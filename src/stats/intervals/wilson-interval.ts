import { normalQuantile } from '../distributions/normal-quantile.ts';
import { twoSidedTail } from '../distributions/two-sided-tail.ts';
import type { Interval } from '../numbers/interval.ts';

/**
 * Wilson's score interval for a proportion, two-sided, without continuity correction; `undefined`
 * without trials.
 *
 * Formula: the p that solve |x/n - p| = z sqrt(p (1 - p) / n). Wilson 1927, Journal of the American
 * Statistical Association 22:209-212; method 3 of Newcombe 1998, Statistics in Medicine 17:857-872.
 * The limits are exactly 0 at no success and exactly 1 at success in every trial.
 *
 * @param successes whole number from 0 to `trials`
 * @param trials whole number
 * @param confidence a fraction, such as 0.95
 * @returns limits as fractions of 1
 * @throws RangeError if an argument is outside that
 * @example wilsonInterval(0, 20, 0.95)?.low // => 0
 */
export function wilsonInterval(
  successes: number,
  trials: number,
  confidence: number,
): Interval | undefined {
  if (!Number.isSafeInteger(successes) || !Number.isSafeInteger(trials)) {
    throw new RangeError(`${successes} of ${trials}: counts are whole numbers`);
  }
  if (successes < 0 || successes > trials) {
    throw new RangeError(`${successes} successes do not fit ${trials} trials`);
  }
  const z = -normalQuantile(twoSidedTail(confidence));
  if (trials === 0) return undefined;
  const middle = successes + (z * z) / 2;
  const spread = z * Math.sqrt((successes * (trials - successes)) / trials + (z * z) / 4);
  // The smaller root by way of the product of the roots: middle - spread would cancel near 0.
  const low = (successes * successes) / trials / (middle + spread);
  const high = successes === trials ? 1 : (middle + spread) / (trials + z * z);
  return { low, high };
}
