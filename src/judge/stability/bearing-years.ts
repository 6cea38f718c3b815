import type { CropRecord } from '../../measure/crop-record.ts';
import { groupBy } from '../../measure/group-by.ts';
import type { Tree } from '../../model/collection.ts';
import { seasonOf } from '../../model/dates.ts';
import { alternationIndex } from '../../stats/describe/alternation-index.ts';
import { mean } from '../../stats/describe/mean.ts';

/** How much the load of a cultivar's trees swings from year to year. */
export interface Alternation {
  /** Mean of the index over the trees that have one: 0 every year alike, 1 every other year empty. */
  readonly index: number;
  /** Pairs of neighbouring years that could be compared, over all trees. */
  readonly pairs: number;
  /** Trees that have an index. */
  readonly trees: number;
}

/** Seasons of a newly planted tree that are no measure of it; common practice, no source. */
const JUVENILE_SEASONS = 2;

/**
 * Alternate bearing of some trees, from the load of each in one crop by season (see
 * `alternationIndex`). Left out as juvenile: seasons before a tree's first load above 0, and the
 * first two seasons of a tree from the one it was planted in, where that is known (common practice,
 * no source). A season without an entry is unknown, not empty.
 *
 * @param records of one crop
 * @param latitude degrees north, by which a date belongs to a season
 * @returns undefined if no tree has two years that can be compared
 */
export function alternationOf(
  records: readonly CropRecord[],
  latitude: number | undefined,
): Alternation | undefined {
  const trees = [...groupBy(records, ({ tree }) => tree)].flatMap(
    ([tree, own]) => alternationIndex(bearingYears(tree, own, latitude)) ?? [],
  );
  const index = mean(trees.map((one) => one.index));
  if (index === undefined) return undefined;
  return {
    index,
    pairs: trees.reduce((all, one) => all + one.terms, 0),
    trees: trees.length,
  };
}

/**
 * Loads of one tree in one crop, a place for each season from the first of full bearing to the last;
 * undefined where nothing was written down.
 */
export function bearingYears(
  tree: Tree,
  records: readonly CropRecord[],
  latitude: number | undefined,
): (number | undefined)[] {
  const grown =
    tree.planted === undefined
      ? Number.NEGATIVE_INFINITY
      : seasonOf(tree.planted.latest, latitude) + JUVENILE_SEASONS;
  const bore = records.filter(({ load }) => load.fruit > 0).map(({ season }) => season);
  const first = Math.max(grown, Math.min(...bore));
  const counted = records.filter(({ season }) => season >= first);
  if (counted.length === 0) return [];
  const loads = new Map(counted.map(({ season, load }) => [season, load.fruit]));
  const seasons = [...loads.keys()];
  const start = Math.min(...seasons);
  return Array.from({ length: Math.max(...seasons) - start + 1 }, (_, year) =>
    loads.get(start + year),
  );
}
