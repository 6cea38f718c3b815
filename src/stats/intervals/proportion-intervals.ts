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

/**
 * Difference of two independent proportions, x1/n1 - x2/n2, with Newcombe's hybrid score interval,
 * two-sided, without continuity correction; `undefined` if either group has no trials.
 *
 * Formula: with l and u the Wilson limits of each proportion, low = d - sqrt((p1 - l1)^2 +
 * (u2 - p2)^2), high = d + sqrt((u1 - p1)^2 + (p2 - l2)^2). Newcombe 1998, Statistics in Medicine
 * 17:873-890, method 10.
 *
 * @param x1 successes of the first group, a whole number from 0 to n1
 * @param n1 trials of the first group
 * @param x2 successes of the second group, a whole number from 0 to n2
 * @param n2 trials of the second group
 * @param confidence a fraction, such as 0.95
 * @returns difference and limits as fractions of 1, from -1 to 1
 * @throws RangeError if an argument is outside that
 * @example newcombeDifference(10, 10, 0, 10, 0.95)?.high // => 1
 */
export function newcombeDifference(
  x1: number,
  n1: number,
  x2: number,
  n2: number,
  confidence: number,
): ({ readonly difference: number } & Interval) | undefined {
  const first = wilsonInterval(x1, n1, confidence);
  const second = wilsonInterval(x2, n2, confidence);
  if (first === undefined || second === undefined) return undefined;
  const p1 = x1 / n1;
  const p2 = x2 / n2;
  const difference = p1 - p2;
  return {
    difference,
    low: Math.max(-1, difference - Math.hypot(p1 - first.low, second.high - p2)),
    high: Math.min(1, difference + Math.hypot(first.high - p1, p2 - second.low)),
  };
}
