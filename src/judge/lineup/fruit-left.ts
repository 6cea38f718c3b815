import { oldestFirst } from '../../measure/load.ts';
import { total } from '../../measure/total.ts';
import type { Tree } from '../../model/collection.ts';
import type { IsoDate } from '../../model/dates.ts';
import type { Crop, Season } from '../../model/ledger.ts';

/**
 * Fruit of a crop that a tree should still bear at the end of a day: what hung at the last count up
 * to then, less what was picked or dropped from that day on. A count is made before anything is
 * picked that day. Fruit that went unseen before it is gone from the count too. At least 0; undefined
 * where the fruit was not counted that season.
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
  const last = oldestFirst(counts).at(-1);
  if (last === undefined) return undefined;
  // Of two counts of one day the greater, as for the load.
  const hung = Math.max(...counts.filter((one) => one.on === last.on).map(({ fruit }) => fruit));
  const gone = [...own(season?.picks ?? []), ...own(season?.drops ?? [])];
  const since = total(gone, (entry) => (entry.on >= last.on ? entry.fruit : 0));
  return Math.max(0, hung - since);
}
