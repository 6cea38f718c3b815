import type { Pick } from '../model/entries.ts';
import { decimalSum } from '../stats/numbers/sum.ts';

/**
 * How the weight of all fruit of a pick was had: `together` on the scales; `singly`, each fruit
 * weighed; `stretched` from a sample weighed singly; `unknown` (nothing weighed, or only the best).
 */
export type WeightSource = 'together' | 'singly' | 'stretched' | 'unknown';

/** What one pick tells of weight. */
export interface PickWeight {
  /** Fruit and their weight (g) that a mean weight counts; 0 and 0 where there are none. */
  readonly counted: { readonly fruit: number; readonly weight: number };
  /** Weights of single fruit (g) that a spread counts. */
  readonly singles: readonly number[];
  /** Fruit that stood on the scales, those kept out of means among them. */
  readonly weighed: number;
  /** Weight of these, g: the pick weighs at least as much. */
  readonly onScales: number;
  /** Fruit weighed singly that were picked out as the best, and so are kept out of means. */
  readonly best: number;
  /** Weight of all fruit of the pick, g; undefined where it cannot be known. */
  readonly total: number | undefined;
  /** Fruit whose weight cannot be known. */
  readonly unknown: number;
  readonly source: WeightSource;
}

/**
 * What a pick tells of weight. A weight of all fruit together counts before single weights, since
 * it leaves nothing out; the best fruit alone tell nothing of the mean.
 *
 * Units: g.
 */
export function pickWeight(pick: Pick): PickWeight {
  const isBest = pick.sample === 'best';
  const singles = isBest ? [] : pick.weights;
  const sampled = { fruit: singles.length, weight: decimalSum(singles) };
  const whole = pick.weight !== undefined && pick.fruit > 0;
  const all = totalWeight(pick, sampled);
  return {
    counted: whole ? { fruit: pick.fruit, weight: pick.weight } : sampled,
    singles,
    weighed: whole ? pick.fruit : pick.weights.length,
    onScales: pick.weight ?? decimalSum(pick.weights),
    best: isBest ? pick.weights.length : 0,
    ...all,
    unknown: all.total === undefined ? pick.fruit : 0,
  };
}

function totalWeight(
  pick: Pick,
  sampled: { readonly fruit: number; readonly weight: number },
): { readonly total: number | undefined; readonly source: WeightSource } {
  if (pick.weight !== undefined) return { total: pick.weight, source: 'together' };
  if (pick.weights.length >= pick.fruit)
    return { total: decimalSum(pick.weights), source: 'singly' };
  if (sampled.fruit === 0) return { total: undefined, source: 'unknown' };
  return { total: (pick.fruit * sampled.weight) / sampled.fruit, source: 'stretched' };
}
