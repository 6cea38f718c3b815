import { tInterval } from './t-interval.ts';

/** How far one is above another; without an interval where no standard error can be had. */
export interface Difference {
  readonly difference: number;
  readonly se: number | undefined;
  readonly low: number | undefined;
  readonly high: number | undefined;
}

/** An estimate out of independent units, of whatever was sampled. */
export interface UnitEstimate {
  readonly value: number;
  /** Standard error; undefined where it rests on one unit. */
  readonly se: number | undefined;
  readonly units: number;
}

/**
 * Difference of two independent estimates, a - b, with its t interval; no interval where either
 * has no standard error or neither has any scatter.
 *
 * Formula: se^2 = a.se^2 + b.se^2 on the degrees of freedom of Welch 1947, Biometrika 34:28-35, and
 * Satterthwaite 1946, Biometrics Bulletin 2:110-114: se^4 / (a.se^4 / (a.units - 1) +
 * b.se^4 / (b.units - 1)).
 *
 * @param confidence a fraction, such as 0.95
 */
export function welchDifference(a: UnitEstimate, b: UnitEstimate, confidence: number): Difference {
  const difference = a.value - b.value;
  if (a.se === undefined || b.se === undefined || a.units < 2 || b.units < 2) {
    return { difference, se: undefined, low: undefined, high: undefined };
  }
  const variance = a.se ** 2 + b.se ** 2;
  if (variance === 0) return { difference, se: undefined, low: undefined, high: undefined };
  // Shares of the variance, since fourth powers of small errors would vanish.
  const [shareA, shareB] = [a.se ** 2 / variance, b.se ** 2 / variance];
  const df = 1 / (shareA ** 2 / (a.units - 1) + shareB ** 2 / (b.units - 1));
  const se = Math.sqrt(variance);
  return { difference, se, ...tInterval(difference, se, df, confidence) };
}
