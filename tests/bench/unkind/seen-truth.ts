import type { Chance } from './chance.ts';
import { type Garden, SHARES, treeLean, UNITS, upTo } from './garden.ts';
import { bearingOf, type SeasonRecord } from './garden-records.ts';

/** What is true of one tree in one season, and what was seen of it. */
export interface SeenTruth {
  readonly cultivar: number;
  readonly season: number;
  /** Branches counted, or fruit weighed. */
  readonly units: number;
  /**
   * Fruit per branch, or mean weight in g, that other trees of the cultivar would have had in that season: planted in
   * the same year at the same site, the season as it was to the cultivar (its heavy or light year too).
   */
  readonly expected: number;
}

export type SeenPart = 'productivity' | 'size';

const DRAWS = 20_000;

/** Of every tree and season with a count, or with fruit weighed. */
export function seenTruth(
  garden: Garden,
  seasons: readonly SeasonRecord[],
  part: SeenPart,
  luck: Chance,
): SeenTruth[] {
  const key = part === 'productivity' ? 'load' : 'size';
  const unit = UNITS[key];
  const shifted = (draw: () => number) =>
    upTo(DRAWS).reduce((sum) => sum + Math.exp(unit * draw()) / DRAWS, 0);
  const others =
    garden.kind.equal === 'plates' ? 1 : shifted(() => treeLean(garden.kind, luck)[key]);
  const alone = shifted(() => SHARES.treeSeason * luck.shape('bell'));
  return seasons.flatMap((record, season) =>
    unitsOf(record, part).map(({ tree: id, units }) => {
      const tree = garden.trees.find((one) => one.id === id);
      const own = garden.cultivars[tree?.cultivar ?? -1];
      if (tree === undefined || own === undefined) throw new RangeError(`no tree ${id}`);
      const effects =
        own.lean[key] +
        (own.liking[tree.site]?.[key] ?? 0) +
        (garden.sites[tree.site]?.[key] ?? 0) +
        (garden.years[season]?.[key] ?? 0) +
        (own.swings[season]?.[key] ?? 0);
      const bears = key === 'load' ? bearingOf(garden, tree, season) : 1;
      return {
        cultivar: tree.cultivar,
        season,
        units,
        expected: bears * Math.exp(garden.levels[key] + unit * effects) * others * alone,
      };
    }),
  );
}

function unitsOf({ counts, picks }: SeasonRecord, part: SeenPart) {
  if (part === 'productivity') {
    return (counts as { tree: string; branches: number }[]).map(({ tree, branches }) => ({
      tree,
      units: branches,
    }));
  }
  return (picks as { tree: string; weights: number[] }[]).map(({ tree, weights }) => ({
    tree,
    units: weights.length,
  }));
}
