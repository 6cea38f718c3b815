import type { Tree } from '../model/collection.ts';
import type { Ledger } from '../model/ledger.ts';
import { decimalSum } from '../stats/numbers/sum.ts';
import type { CropRecord } from './crop-record.ts';
import { groupBy } from './group-by.ts';
import type { Estimate } from './ratio-over-trees.ts';
import { ratioOverTrees } from './ratio-over-trees.ts';
import { HALF_A_FRUIT, type SharedSpread, type SpreadFigure } from './shared-spread.ts';
import { total } from './total.ts';
import { trunkAreaOf } from './trunk-area.ts';

/** What some records together bore. */
export interface YieldFigures {
  /** Fruit set. */
  readonly load: number;
  /** Branches where they were counted; a branch counts once a season. */
  readonly branches: number | undefined;
  /** Load per branch over the records whose branches are known. */
  readonly fruitPerBranch: Estimate | undefined;
  readonly picked: number;
  /** Share of the load that was picked. */
  readonly pickedShare: number | undefined;
  /** g; undefined as soon as some picked fruit's weight is not known. */
  readonly pickedWeight: number | undefined;
  /** g a branch, over the records where both are known. */
  readonly weightPerBranch: number | undefined;
  /** cm2, added up over the trees whose girth is known. */
  readonly trunkArea: number | undefined;
  /** g/cm2, over the trees where both are known. */
  readonly yieldEfficiency: number | undefined;
  readonly trees: number;
}

export interface YieldOptions {
  /** A fraction, such as 0.95. */
  readonly confidence: number;
  /** Season at whose end trunks are taken as measured. */
  readonly trunkSeason: number;
  /** Of fruit per branch between trees, where all cultivars share it. */
  readonly spread?: SharedSpread | undefined;
}

/**
 * Yield of some records: of one tree, or of the trees of a cultivar pooled, over one season or
 * several.
 *
 * Ratios are ratios of totals, not means of ratios: fruitPerBranch = load / branches (21 fruit on
 * 8 branches is 2.625), weightPerBranch = picked weight / branches, yieldEfficiency = picked weight
 * of all the seasons / trunk area at the end of the last, the cumulative yield efficiency of the
 * NC-140 trials (Autio et al. 2017, Journal of the American Pomological Society 71(3)).
 */
export function yieldFigures(
  ledger: Ledger,
  records: readonly CropRecord[],
  { confidence, trunkSeason, spread }: YieldOptions,
): YieldFigures {
  const load = total(records, (record) => record.load.fruit);
  const picked = total(records, (record) => record.picked);
  const known = records.map((record) => record.branches).filter((one) => one !== undefined);
  return {
    load,
    branches: known.length === 0 ? undefined : decimalSum(known),
    fruitPerBranch: fruitPerBranch(records, confidence, spread),
    picked,
    pickedShare: ratio(picked, load),
    pickedWeight: pickedWeight(records),
    weightPerBranch: weightPerBranch(records),
    ...overTrunks(ledger, records, trunkSeason),
    trees: new Set(records.map((record) => record.tree)).size,
  };
}

/** Fruit per branch of a tree, as its spread is told from; half a fruit keeps 0 off the logarithm. */
export const BRANCH_FIGURE: SpreadFigure = {
  of: (records) => {
    const branches = total(branched(records), (record) => record.branches ?? 0);
    return branches > 0 ? (loadOfBranched(records) + HALF_A_FRUIT) / branches : undefined;
  },
  fruit: loadOfBranched,
  // Counts vary as those of Poisson's law do.
  luckOfOne: () => 1,
};

function loadOfBranched(records: readonly CropRecord[]): number {
  return total(branched(records), (record) => record.load.fruit);
}

function branched(records: readonly CropRecord[]): CropRecord[] {
  return records.filter(({ branches }) => branches !== undefined);
}

/**
 * Load per branch of some records, the tree as the unit; `undefined` without counted branches.
 *
 * @param spread as of `ratioOverTrees`
 */
export function fruitPerBranch(
  records: readonly CropRecord[],
  confidence: number,
  spread?: SharedSpread,
): Estimate | undefined {
  const parts = records.flatMap(({ tree, load, branches }) =>
    branches === undefined ? [] : [{ tree, y: load.fruit, x: branches, fruit: load.fruit }],
  );
  return ratioOverTrees(parts, confidence, spread);
}

/** Weight of all picked fruit, g; `undefined` as soon as a part of it is unknown. */
export function pickedWeight(records: readonly CropRecord[]): number | undefined {
  const totals = records.map((record) => record.weights.total);
  return totals.includes(undefined) ? undefined : decimalSum(totals.map((total) => total ?? 0));
}

function weightPerBranch(records: readonly CropRecord[]): number | undefined {
  const both = records.flatMap(({ weights, branches }) =>
    weights.total === undefined || branches === undefined
      ? []
      : [{ weight: weights.total, branches }],
  );
  return ratio(
    decimalSum(both.map(({ weight }) => weight)),
    decimalSum(both.map(({ branches }) => branches)),
  );
}

function overTrunks(
  ledger: Ledger,
  records: readonly CropRecord[],
  season: number,
): Pick<YieldFigures, 'trunkArea' | 'yieldEfficiency'> {
  const trees = [...groupBy(records, (record) => record.tree)].flatMap(([tree, own]) =>
    measuredTree(ledger, tree, own, season),
  );
  const weighed = trees.flatMap(({ weight, area }) =>
    weight === undefined ? [] : [{ weight, area }],
  );
  return {
    trunkArea: trees.length === 0 ? undefined : decimalSum(trees.map(({ area }) => area)),
    yieldEfficiency: ratio(
      decimalSum(weighed.map(({ weight }) => weight)),
      decimalSum(weighed.map(({ area }) => area)),
    ),
  };
}

function measuredTree(
  ledger: Ledger,
  tree: Tree,
  records: readonly CropRecord[],
  season: number,
): { readonly weight: number | undefined; readonly area: number }[] {
  const area = trunkAreaOf(ledger, tree, season);
  return area === undefined ? [] : [{ weight: pickedWeight(records), area }];
}

function ratio(part: number, whole: number): number | undefined {
  return whole > 0 ? part / whole : undefined;
}
