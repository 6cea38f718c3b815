import type { Tree } from '../model/collection.ts';
import { factorInterval, ratioEstimate } from '../stats/intervals/ratio-estimate.ts';
import { tInterval } from '../stats/intervals/t-interval.ts';
import { decimalSum } from '../stats/numbers/sum.ts';
import { groupBy } from './group-by.ts';
import { HALF_A_FRUIT, type SharedSpread, varianceOfRow } from './shared-spread.ts';
import { total } from './total.ts';

/** A figure with what is known of its error. */
export interface Estimate {
  readonly value: number;
  /** Standard error, in the unit of the value; undefined where it rests on one unit. */
  readonly se: number | undefined;
  readonly low: number | undefined;
  readonly high: number | undefined;
  /** Trees, or whatever else was sampled, that it rests on. */
  readonly units: number;
}

/** What one record adds to a ratio: `y` over `x`. */
export interface RatioPart {
  readonly tree: Tree;
  readonly y: number;
  readonly x: number;
  /** How many fruit that rests on. */
  readonly fruit: number;
}

/**
 * Ratio of totals with the tree as the unit: the parts of a tree (its seasons, its picks) are added
 * up first, since they are not independent. `undefined` if x adds up to 0.
 *
 * Formula: sum y / sum x. With a shared spread the interval is the ratio times or by
 * exp(t sd / sqrt trees) (see `factorInterval`), wider where it rests on few fruit (`varianceOfRow`),
 * from 0 up to that of half a fruit where nothing was seen. Without one: standard error by linearisation, t interval on trees - 1 (Cochran 1977,
 * Sampling Techniques, 3rd ed., sec. 6.3), its lower end not below 0; no interval with one tree.
 *
 * @param confidence a fraction, such as 0.95
 * @param shared spread that the trees of all cultivars share; left out, the parts' own counts
 */
export function ratioOverTrees(
  parts: readonly RatioPart[],
  confidence: number,
  shared?: SharedSpread,
): Estimate | undefined {
  const trees = [...groupBy(parts, (part) => part.tree).values()];
  const estimate = ratioEstimate(
    trees.map((own) => decimalSum(own.map(({ y }) => y))),
    trees.map((own) => decimalSum(own.map(({ x }) => x))),
  );
  if (estimate === undefined) return undefined;
  if (shared !== undefined) return withSharedSpread(estimate, parts, confidence, shared);
  return withInterval(estimate.ratio, estimate.se, estimate.units, confidence);
}

function withSharedSpread(
  { ratio: value, units }: { readonly ratio: number; readonly units: number },
  parts: readonly RatioPart[],
  confidence: number,
  { sd, df, luck }: SharedSpread,
): Estimate {
  if (sd === undefined) return { value, se: undefined, low: undefined, high: undefined, units };
  const fruit = total(parts, (part) => part.fruit);
  const error = Math.sqrt(varianceOfRow(sd, luck, { trees: units, fruit }));
  const seen = value > 0 ? value : HALF_A_FRUIT / decimalSum(parts.map(({ x }) => x));
  const { low, high } = factorInterval(seen, { sd: error, units: 1, df }, confidence);
  return { value, se: seen * error, low: value > 0 ? low : 0, high, units };
}

/** An estimate that cannot be below 0, with its t interval on units - 1. */
export function withInterval(
  value: number,
  se: number | undefined,
  units: number,
  confidence: number,
): Estimate {
  if (se === undefined || units < 2) {
    return { value, se: undefined, low: undefined, high: undefined, units };
  }
  const { low, high } = tInterval(value, se, units - 1, confidence);
  return { value, se, low: Math.max(0, low), high, units };
}
