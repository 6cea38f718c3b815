import type { Tree } from '../model/collection.ts';
import { growingYear } from '../model/dates.ts';
import type { Growth } from '../model/entries.ts';
import type { Ledger } from '../model/ledger.ts';
import { groupBy } from './group-by.ts';
import { oldestFirst } from './load.ts';

/**
 * Trunk cross-sectional area from the girth of the trunk: girth^2 / 4 pi, the trunk taken as round,
 * as trials of the NC-140 regional project do (for example Autio et al. 2017, Journal of the
 * American Pomological Society 71(3)).
 *
 * @param girth cm, 0 or more
 * @returns cm2
 * @example trunkArea(15.7) // => 19.61505096136064
 */
export function trunkArea(girth: number): number {
  return (girth * girth) / (4 * Math.PI);
}

const girthsOf = new WeakMap<Ledger, ReadonlyMap<string, readonly Growth[]>>();

/**
 * Trunk area of a tree by the latest girth that was measured up to the end of a season; `undefined`
 * if none was.
 *
 * @returns cm2
 */
export function trunkAreaOf(ledger: Ledger, tree: Tree, season: number): number | undefined {
  const { last } = growingYear(season, ledger.trial.place.latitude);
  const measured = girths(ledger).get(tree.id) ?? [];
  const girth = measured.findLast((growth) => growth.on <= last)?.girth;
  return girth === undefined ? undefined : trunkArea(girth);
}

/** Entries with a girth, by tree, oldest first. */
function girths(ledger: Ledger): ReadonlyMap<string, readonly Growth[]> {
  let byTree = girthsOf.get(ledger);
  if (byTree === undefined) {
    const measured = ledger.seasons
      .flatMap((season) => season.growth)
      .filter((growth) => growth.girth !== undefined);
    byTree = groupBy(oldestFirst(measured), (growth) => growth.tree.id);
    girthsOf.set(ledger, byTree);
  }
  return byTree;
}
