import { loadOf } from '../../measure/load.ts';
import { total } from '../../measure/total.ts';
import type { Tree } from '../../model/collection.ts';
import type { IsoDate } from '../../model/dates.ts';
import type { Crop, Season } from '../../model/ledger.ts';

/**
 * Fruit of a crop that a tree should still bear at the end of a day: load - picked - dropped, by the
 * entries up to then. Undefined where the fruit was not counted that season.
 */
export function fruitLeft(
  season: Season | undefined,
  tree: Tree,
  crop: Crop,
  on: IsoDate,
): number | undefined {
  const own = <T extends { tree: Tree; crop: Crop; on: IsoDate }>(entries: readonly T[]): T[] =>
    entries.filter((one) => one.tree === tree && one.crop === crop && one.on <= on);
  const counts = own(season?.counts ?? []);
  if (counts.length === 0) return undefined;
  const picks = own(season?.picks ?? []);
  const drops = own(season?.drops ?? []);
  const gone = total(picks, (pick) => pick.fruit) + total(drops, (drop) => drop.fruit);
  return loadOf(counts, picks, drops).fruit - gone;
}
