import type { Pick } from '../../model/entries.ts';

export interface WeightSum {
  /** Weight of the whole pick, g. */
  readonly weight: number;
  /** Sum of the single weights, g. */
  readonly sum: number;
  /** What rounding on a kitchen scale may make of it, g: 1 %, or half a gram a fruit if more. */
  readonly slack: number;
  readonly allWeighed: boolean;
}

/** The two weights of a pick that has both. */
export function weightSum({ weight, weights, fruit }: Pick): WeightSum | undefined {
  if (weight === undefined || weights.length === 0) return undefined;
  const sum = weights.reduce((total, one) => total + one, 0);
  const slack = Math.max(sum / 100, weights.length / 2);
  return { weight, sum, slack, allWeighed: weights.length === fruit };
}
