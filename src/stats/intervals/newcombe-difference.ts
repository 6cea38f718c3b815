import type { Interval } from '../numbers/interval.ts';
import { wilsonInterval } from './wilson-interval.ts';

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
