import type { JointTrial } from '../../stats/joint/joint-trial.ts';

/** How long the chain runs for a trial. */
export interface Length {
  readonly warmUp: number;
  readonly rounds: number;
  readonly every?: number;
  readonly pairs: number;
}

/** Cells up to which spreads are hardly told by anything but their priors, and wander widely. */
const TINY = 100;
/** Cells that a small trial has at most; beyond, cells settle the spreads and rounds depend less on one another. */
const SMALL = 600;
const LARGE = 4000;

/**
 * Rounds that bring the error of simulation of an end of an interval well below the last digit shown (MODEL.md tells
 * what it is). Part of the method: changed only with a calibration.
 */
export function lengthFor({ parts }: JointTrial): Length {
  const cells = parts.reduce((sum, { y }) => sum + y.length, 0);
  if (cells <= TINY) return { warmUp: 150, rounds: 2000, every: 3, pairs: 1 };
  if (cells <= SMALL) return { warmUp: 150, rounds: 1200, every: 2, pairs: 2 };
  if (cells <= LARGE) return { warmUp: 120, rounds: 500, pairs: 2 };
  return { warmUp: 30, rounds: 60, pairs: 8 };
}

/** Where only means are told, which fewer draws give. */
export function lengthForMeans(trial: JointTrial): Length {
  const { warmUp, rounds, every = 1 } = lengthFor(trial);
  return { warmUp, rounds: Math.max(40, Math.round((rounds * every) / 10)), pairs: 1 };
}
