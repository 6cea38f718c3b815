import { mean } from '../../stats/describe/mean.ts';
import { type ItemPlate, itemDoubt, type SpreadVariances } from '../../stats/mixed/item-doubt.ts';
import { meanOfDraws } from '../../stats/mixed/mean-of-draws.ts';
import { sum } from '../../stats/numbers/sum.ts';
import type { ItemPart, Ranked } from '../index/rank.ts';
import { type SettleChance, settleChance } from './settle-chance.ts';

/** More evidence of a cultivar, to begin with what it has. */
export interface MoreEvidence {
  /** More seasons, each with as many trees and tastings as before. */
  readonly seasons: number;
  /** More trees, measured and tasted as the others, in those seasons or else in the last one. */
  readonly trees: number;
  /** More plates tasted, in each of those seasons or else in the last one. */
  readonly tastings: number;
}

/** A plan with the chance that it settles a verdict. */
export interface Remedy extends MoreEvidence, SettleChance {}

/** The plans that are looked at, and the names that reports give their chances. */
export const PLANS = {
  settled1Season: { seasons: 1, trees: 0, tastings: 0 },
  settled2Seasons: { seasons: 2, trees: 0, tastings: 0 },
  settled4Seasons: { seasons: 4, trees: 0, tastings: 0 },
  settledAnotherTree: { seasons: 0, trees: 1, tastings: 0 },
  settled2SeasonsAnotherTree: { seasons: 2, trees: 1, tastings: 0 },
  settled3Tastings: { seasons: 0, trees: 0, tastings: 3 },
  settled6Tastings: { seasons: 0, trees: 0, tastings: 6 },
  settled2Seasons3Tastings: { seasons: 2, trees: 0, tastings: 3 },
} as const satisfies Readonly<Record<string, MoreEvidence>>;

export type PlanName = keyof typeof PLANS;

export type Remedies = Readonly<Record<PlanName, Remedy>>;

/**
 * The chance of each plan to bring the interval of an index clear of a mark (`settleChance`).
 *
 * What a plan leaves of the variance: the standard deviation of each part's draws is taken to shrink as the doubt about
 * the item does with the planned plates added (`itemDoubt`), and the variance of the index is the sum over pairs of
 * parts of shares x covariance of their draws.
 */
export function remedies(one: Ranked, mark: number): Remedies {
  const parts = partsInDoubt(one.drawnParts);
  const now = indexVariance(parts, (plates) => plates);
  const standing = { mean: one.index, variance: now, low: one.low, high: one.high };
  const found = Object.entries(PLANS).map(([name, plan]) => {
    const then = indexVariance(parts, (plates, part) =>
      withPlan(plates, part, plan, one.removedTrees),
    );
    const left = now > 0 ? Math.min(1, then / now) : 1;
    const chance = left < 1 ? settleChance(standing, mark, left) : { above: 0, below: 0 };
    return [name, { ...plan, ...chance }];
  });
  return Object.fromEntries(found) as Remedies;
}

/** A part with what does not depend on how much evidence there is. */
interface PartInDoubt {
  readonly part: ItemPart['part'];
  readonly plates: readonly ItemPlate[];
  /** Covariances of the part's share of the index with that of every part. */
  readonly covariances: readonly number[];
  /** Absent where there was nothing to model. */
  readonly spreads: SpreadVariances | undefined;
}

function partsInDoubt(parts: readonly ItemPart[]): readonly PartInDoubt[] {
  const total = sum(parts.map(({ weight }) => weight));
  return parts.map(({ part, plates, weight, draws, spreads }) => ({
    part,
    plates: plates(),
    covariances: parts.map(
      (other) => ((weight * other.weight) / total ** 2) * covariance(draws, other.draws),
    ),
    spreads: spreads && spreadVariances(part, spreads),
  }));
}

function covariance(a: Float64Array, b: Float64Array): number {
  const [centre, other] = [meanOfDraws(a), meanOfDraws(b)];
  let product = 0;
  for (let d = 0; d < a.length; d++) {
    product += ((a[d] as number) - centre) * ((b[d] as number) - other);
  }
  return product / Math.max(1, a.length - 1);
}

/** All items of a part have their spreads in common. */
const known = new WeakMap<object, SpreadVariances>();

/** Means over the draws of the squares of the spreads. */
export function spreadVariances(
  part: ItemPart['part'],
  spreads: NonNullable<ItemPart['spreads']>,
): SpreadVariances {
  const own = known.get(spreads);
  if (own !== undefined) return own;
  const variance = (draws: Float64Array) => mean([...draws].map((spread) => spread ** 2)) ?? 0;
  const found = {
    item: variance(spreads.item),
    season: variance(spreads.season),
    tree: variance(spreads.tree),
    plate: variance(spreads.plate),
    residual: variance(spreads.residual),
    // All cultivars are measured every season, so what a season did to all of them is as good as known.
    block: part === 'taste' ? variance(spreads.block) : 0,
  };
  known.set(spreads, found);
  return found;
}

function indexVariance(
  parts: readonly PartInDoubt[],
  grown: (plates: readonly ItemPlate[], part: ItemPart['part']) => readonly ItemPlate[],
): number {
  const shrunk = parts.map(({ part, plates, spreads }) => {
    if (spreads === undefined || plates.length === 0) return 1;
    const then = grown(plates, part);
    if (then.length === plates.length) return 1;
    return Math.sqrt(itemDoubt(then, spreads) / itemDoubt(plates, spreads));
  });
  return sum(
    parts.flatMap(({ covariances }, one) =>
      covariances.map((own, other) => own * (shrunk[one] ?? 1) * (shrunk[other] ?? 1)),
    ),
  );
}

/**
 * The plates of an item and those that a plan adds, dealt to the trees that have the fewest; a tree that is no more
 * bears none, and a season brings so many to a tree as the seasons before.
 */
function withPlan(
  plates: readonly ItemPlate[],
  part: ItemPart['part'],
  plan: MoreEvidence,
  removed: ReadonlySet<number>,
): readonly ItemPlate[] {
  const seasons = new Set(plates.map(({ season }) => season));
  const seen = new Set(plates.map(({ tree }) => tree));
  const tastings = part === 'taste' ? plan.tastings : 0;
  const added = Array.from({ length: plan.trees }, (_, at) => Math.max(...seen) + 1 + at);
  const observations = sum(plates.map((plate) => plate.observations)) / plates.length;
  const last = Math.max(...seasons);
  const standing = [...seen].filter((tree) => !removed.has(tree));
  const trees = [...standing, ...added];
  if (trees.length === 0) return plates;
  const all = [...plates];
  const serve = (trees: readonly number[], season: number, count: number) => {
    for (let plate = 0; plate < count; plate++) {
      const [next = last] = trees.toSorted((a, b) => countOf(all, a) - countOf(all, b) || a - b);
      all.push({ season, tree: next, observations });
    }
  };
  if (plan.seasons === 0) {
    const each = Math.max(1, Math.round(perTree(plates, removed)));
    serve(added, last, added.length * each);
    serve(trees, last, tastings);
  }
  const perSeason = perTree(plates, removed) * trees.length;
  for (let season = 1; season <= plan.seasons; season++) {
    const count = Math.round(season * perSeason) - Math.round((season - 1) * perSeason);
    serve(trees, last + season, Math.max(1, count) + tastings);
  }
  return all;
}

/** Plates that a tree had in a season, of those that stood in it as far as its plates tell. */
function perTree(plates: readonly ItemPlate[], removed: ReadonlySet<number>): number {
  const seasons = [...new Set(plates.map(({ season }) => season))];
  const trees = [...new Set(plates.map(({ tree }) => tree))];
  const last = (tree: number) =>
    removed.has(tree)
      ? Math.max(...plates.filter((plate) => plate.tree === tree).map(({ season }) => season))
      : Number.POSITIVE_INFINITY;
  const stood = sum(seasons.map((season) => trees.filter((tree) => season <= last(tree)).length));
  return plates.length / stood;
}

function countOf(plates: readonly ItemPlate[], tree: number): number {
  return plates.filter((plate) => plate.tree === tree).length;
}
