import { mean } from '../stats/describe/mean.ts';
import { meanOfDraws } from '../stats/mixed/mean-of-draws.ts';
import { sum } from '../stats/numbers/sum.ts';
import type { Backing } from './index/backing.ts';
import type { ItemPart, Ranked } from './rank.ts';

/** A way to more evidence, and how much of it would do. */
export interface Remedy {
  readonly of: 'seasons' | 'trees' | 'tastings';
  /** How many more; absent where even `MOST` would not do. */
  readonly more: number | undefined;
}

/** Past so many more the answer is "not by this alone". */
export const MOST = 12;

const WAYS = ['seasons', 'trees', 'tastings'] as const;

/**
 * How many more seasons, trees or tastings would bring the interval of an index clear of a mark, if
 * the estimate stayed where it is and each alone were added: the next season with as many trees and
 * tastings as before, the next tree measured and tasted as the others, the next tasting of a plate.
 *
 * Formula: in each part the variance of an item's mean given the spreads is
 * 1 / (1 / item + 1 / (season / seasons + tree / trees + (plate + residual / scores) / plates)),
 * all as variances; the standard deviation of the part's draws is taken to shrink in that proportion, and the variance
 * of the index is the sum over pairs of parts of shares x covariance of their draws.
 */
export function remedies(one: Ranked, mark: number): readonly Remedy[] {
  const half = (one.high - one.low) / 2;
  const distance = Math.abs(one.index - mark);
  const parts = partsInDoubt(one.drawnParts);
  const now = indexVariance(parts, (backing) => backing);
  return WAYS.map((of) => {
    for (let more = 1; more <= MOST; more++) {
      const then = indexVariance(parts, (backing, part) => withMore(backing, part, of, more));
      if (half * Math.sqrt(then / now) <= distance) return { of, more };
    }
    return { of, more: undefined };
  });
}

/** A part with what of its variance does not depend on how much evidence there is. */
interface PartInDoubt {
  readonly part: ItemPart['part'];
  readonly backing: Backing;
  /** Covariances of the part's share of the index with that of every part. */
  readonly covariances: readonly number[];
  /** Variances by source, means of the draws. */
  readonly sources: Sources;
}

type Sources = Readonly<Record<keyof ItemPart['spreads'], number>>;

function partsInDoubt(parts: readonly ItemPart[]): readonly PartInDoubt[] {
  const total = sum(parts.map(({ weight }) => weight));
  return parts.map(({ part, backing, weight, draws, spreads }) => ({
    part,
    backing: backing(),
    covariances: parts.map(
      (other) => ((weight * other.weight) / total ** 2) * covarianceOf(draws, other.draws),
    ),
    sources: sourcesOf(spreads),
  }));
}

function covarianceOf(a: Float64Array, b: Float64Array): number {
  const [centre, other] = [meanOfDraws(a), meanOfDraws(b)];
  let product = 0;
  for (let d = 0; d < a.length; d++) {
    product += ((a[d] as number) - centre) * ((b[d] as number) - other);
  }
  return product / Math.max(1, a.length - 1);
}

/** All items of a part have their spreads in common. */
const knownSources = new WeakMap<object, Sources>();

function sourcesOf(spreads: ItemPart['spreads']): Sources {
  const known = knownSources.get(spreads);
  if (known !== undefined) return known;
  const variance = (draws: Float64Array) => mean([...draws].map((spread) => spread ** 2)) ?? 0;
  const sources = {
    item: variance(spreads.item),
    season: variance(spreads.season),
    site: variance(spreads.site),
    tree: variance(spreads.tree),
    plate: variance(spreads.plate),
    residual: variance(spreads.residual),
    block: variance(spreads.block),
  };
  knownSources.set(spreads, sources);
  return sources;
}

function indexVariance(
  parts: readonly PartInDoubt[],
  grown: (backing: Backing, part: ItemPart['part']) => Backing,
): number {
  const shrunk = parts.map(({ part, backing, sources }) => {
    const before = conditionalVariance(sources, backing);
    const after = conditionalVariance(sources, grown(backing, part));
    return before > 0 ? Math.sqrt(after / before) : 1;
  });
  return sum(
    parts.flatMap(({ covariances }, one) =>
      covariances.map((own, other) => own * (shrunk[one] ?? 1) * (shrunk[other] ?? 1)),
    ),
  );
}

function conditionalVariance(sources: Sources, backing: Backing): number {
  if (backing.plates === 0) return 0;
  const scores = backing.observations / backing.plates;
  const evidence =
    sources.season / backing.seasons +
    sources.tree / backing.trees +
    (sources.plate + sources.residual / scores) / backing.plates;
  return sources.item > 0 && evidence > 0 ? 1 / (1 / sources.item + 1 / evidence) : 0;
}

function withMore(
  { seasons, trees, plates, observations }: Backing,
  part: ItemPart['part'],
  of: Remedy['of'],
  more: number,
): Backing {
  const scores = observations / Math.max(1, plates);
  const added = (extra: number) => ({
    plates: plates + extra,
    observations: observations + extra * scores,
  });
  switch (of) {
    case 'seasons':
      return { seasons: seasons + more, trees, ...added((more * plates) / Math.max(1, seasons)) };
    case 'trees':
      return { seasons, trees: trees + more, ...added((more * plates) / Math.max(1, trees)) };
    case 'tastings':
      return part === 'taste'
        ? { seasons, trees, ...added(more) }
        : { seasons, trees, plates, observations };
  }
}
