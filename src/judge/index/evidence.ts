import type { JudgedTrial } from './judged-trial.ts';

/** How much was seen of an item. */
export interface Evidence {
  readonly trees: number;
  readonly seasons: number;
  /** Sittings at which it was tasted. */
  readonly tastings: number;
  /** The sites where it was seen, by number. */
  readonly sites: readonly number[];
  /** Age of its oldest tree when it was last seen; absent where one may be old, for all that is known. */
  readonly oldest: number | undefined;
}

/**
 * How much was seen of each item.
 *
 * @param sites only there; everywhere if left out
 */
export function evidenceOf(
  { items, tasted, harvested }: JudgedTrial,
  sites?: readonly number[],
): readonly Evidence[] {
  const seen = Array.from({ length: items }, () => ({
    trees: new Map<number, number>(),
    seasons: new Set<number>(),
    tastings: new Set<number>(),
    sites: new Set<number>(),
  }));
  for (const { item, tree, season, site, age = Number.POSITIVE_INFINITY, ...row } of [
    ...harvested,
    ...tasted,
  ]) {
    const own = seen[item];
    if (own === undefined || sites?.includes(site) === false) continue;
    own.trees.set(tree, Math.max(age, own.trees.get(tree) ?? age));
    own.seasons.add(season);
    own.sites.add(site);
    if ('sitting' in row) own.tastings.add(row.sitting);
  }
  return seen.map((own) => {
    const oldest = Math.max(...own.trees.values());
    return {
      trees: own.trees.size,
      seasons: own.seasons.size,
      tastings: own.tastings.size,
      sites: [...own.sites],
      oldest: Number.isFinite(oldest) ? oldest : undefined,
    };
  });
}
