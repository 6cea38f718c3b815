import type { IsoDate } from '../model/dates.ts';
import type { Count, Drop, Pick } from '../model/entries.ts';
import { total } from './total.ts';

/** The fruit that a tree set for a crop, and how that number was had. */
export type Load =
  /** A count, together with what was gone by then. */
  | { readonly fruit: number; readonly from: 'count'; readonly count: Count }
  /** All that was picked and dropped: no count was made, or none comes up to it. */
  | { readonly fruit: number; readonly from: 'gathered' };

/**
 * Load of one tree's crop in one season: the greatest, over its counts, of fruit hanging + fruit
 * picked or dropped on earlier days; at least all that was picked and dropped. A count is what
 * hangs on its day before anything is picked, so fruit gone on that same day is still in it. Of
 * counts that agree, the earliest is taken.
 *
 * Units: fruit. Common practice, no source.
 */
export function loadOf(
  counts: readonly Count[],
  picks: readonly Pick[],
  drops: readonly Drop[],
): Load {
  const gone = [...picks, ...drops];
  let load: Load = { fruit: total(gone, (entry) => entry.fruit), from: 'gathered' };
  for (const count of oldestFirst(counts)) {
    const before = total(gone, (entry) => (entry.on < count.on ? entry.fruit : 0));
    const fruit = count.fruit + before;
    // A count that only just comes up to what was gathered confirms it, and knows the branches.
    if (fruit > load.fruit || (fruit === load.fruit && load.from === 'gathered')) {
      load = { fruit, from: 'count', count };
    }
  }
  return load;
}

/**
 * Branches that a load is told by: those of the count that gave the load; else of the crop's last
 * count with branches; else of the tree's last count with branches in that season, whatever the
 * crop; `undefined` if they were never counted.
 *
 * @param ofCrop the tree's counts of that crop in that season
 * @param ofSeason the tree's counts of all crops in that season
 */
export function branchesOf(
  load: Load,
  ofCrop: readonly Count[],
  ofSeason: readonly Count[],
): number | undefined {
  const own = load.from === 'count' ? load.count.branches : undefined;
  return own ?? lastBranches(ofCrop) ?? lastBranches(ofSeason);
}

function lastBranches(counts: readonly Count[]): number | undefined {
  return oldestFirst(counts).findLast((count) => count.branches !== undefined)?.branches;
}

/** Entries by date; those of one day stay as they come. */
export function oldestFirst<T extends { readonly on: IsoDate }>(entries: readonly T[]): T[] {
  // Most lists are, and of one entry.
  if (isOldestFirst(entries)) return [...entries];
  return entries.toSorted((a, b) => (a.on < b.on ? -1 : a.on > b.on ? 1 : 0));
}

function isOldestFirst(entries: readonly { readonly on: IsoDate }[]): boolean {
  for (let at = 1; at < entries.length; at++) {
    if ((entries[at - 1]?.on ?? '') > (entries[at]?.on ?? '')) return false;
  }
  return true;
}
