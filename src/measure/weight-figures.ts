import { mean } from '../stats/describe/mean.ts';
import { quantile } from '../stats/describe/quantile.ts';
import { pooledVariance, sampleSd } from '../stats/describe/variance.ts';
import type { CropRecord } from './crop-record.ts';
import type { Estimate } from './ratio-over-trees.ts';
import { ratioOverTrees, withInterval } from './ratio-over-trees.ts';
import type { SharedSpread, SpreadFigure } from './shared-spread.ts';
import { total } from './total.ts';

/** What single fruit of some records weigh. Weights in g. */
export interface WeightFigures {
  /** Fruit that stood on the scales, those picked out as the best among them. */
  readonly weighed: number;
  /** Of them, those picked out as the best, which no other figure here counts. */
  readonly best: number;
  /** Fruit picked. */
  readonly fruit: number;
  readonly mean: Estimate | undefined;
  /** What the interval of the mean takes as one sample. */
  readonly unit: 'tree' | 'fruit';
  /** Fruit weighed singly, which the spread rests on. */
  readonly singly: number;
  readonly sd: number | undefined;
  /** Coefficient of variation of fruit weighed singly, percent. */
  readonly cv: number | undefined;
  readonly median: number | undefined;
  readonly q1: number | undefined;
  readonly q3: number | undefined;
  readonly min: number | undefined;
  readonly max: number | undefined;
  readonly trees: number;
}

/**
 * Fruit weight of some records: mean = sum of weight / sum of fruit over all fruit weighed, singly
 * or together; spread from fruit weighed singly (quartiles of type 7, Hyndman & Fan 1996, The
 * American Statistician 50:361-365).
 *
 * @param confidence a fraction, such as 0.95
 * @param spread as of `meanWeight`
 */
export function weightFigures(
  records: readonly CropRecord[],
  confidence: number,
  spread?: SharedSpread,
): WeightFigures {
  const singles = records.flatMap((record) => record.weights.singles);
  const centre = mean(singles);
  const sd = sampleSd(singles);
  // One fruit has no spread.
  const spreadAt = (share: number) => (singles.length < 2 ? undefined : quantile(singles, share));
  return {
    weighed: total(records, (record) => record.weights.weighed),
    best: total(records, (record) => record.weights.best),
    fruit: total(records, (record) => record.picked),
    mean: meanWeight(records, confidence, spread),
    unit: weighedTrees(records) > 1 || spread !== undefined ? 'tree' : 'fruit',
    singly: singles.length,
    sd,
    cv: sd === undefined || !centre ? undefined : (100 * sd) / centre,
    median: spreadAt(0.5),
    q1: spreadAt(0.25),
    q3: spreadAt(0.75),
    min: spreadAt(0),
    max: spreadAt(1),
    trees: weighedTrees(records),
  };
}

/**
 * Mean fruit weight, g: sum of weight / sum of fruit, `undefined` if no fruit was weighed.
 *
 * Its error is that of a ratio with the tree as the unit, since fruit of one tree are not
 * independent. Without a shared spread and with one tree it is sd / sqrt(n) of the fruit weighed
 * singly, a t interval on n - 1, and speaks of that one tree only.
 *
 * @param spread of mean fruit weight between trees, as of `ratioOverTrees`
 */
export function meanWeight(
  records: readonly CropRecord[],
  confidence: number,
  spread?: SharedSpread,
): Estimate | undefined {
  const parts = records
    .filter((record) => record.weights.counted.fruit > 0)
    .map(({ tree, weights: { counted } }) => ({
      tree,
      y: counted.weight,
      x: counted.fruit,
      fruit: counted.fruit,
    }));
  const pooled = ratioOverTrees(parts, confidence, spread);
  if (pooled === undefined || pooled.units > 1 || spread !== undefined) return pooled;
  const singles = records.flatMap((record) => record.weights.singles);
  const sd = sampleSd(singles);
  const se = sd === undefined ? undefined : sd / Math.sqrt(singles.length);
  return withInterval(pooled.value, se, singles.length, confidence);
}

/** Mean fruit weight of a tree, as its spread is told from. */
export const WEIGHT_FIGURE: SpreadFigure = {
  of: (records) => {
    const fruit = fruitCounted(records);
    const weight = total(records, (record) => record.weights.counted.weight);
    return fruit > 0 && weight > 0 ? weight / fruit : undefined;
  },
  fruit: fruitCounted,
  luckOfOne: (records) =>
    pooledVariance(
      records.map(({ weights }) => weights.singles.filter((one) => one > 0).map(Math.log)),
    ),
};

function fruitCounted(records: readonly CropRecord[]): number {
  return total(records, (record) => record.weights.counted.fruit);
}

function weighedTrees(records: readonly CropRecord[]): number {
  const weighed = records.filter((record) => record.weights.counted.fruit > 0);
  return new Set(weighed.map((record) => record.tree)).size;
}
