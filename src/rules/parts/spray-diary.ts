import type { Tree } from '../../model/collection.ts';
import { addDays, type IsoDate } from '../../model/dates.ts';
import type { FieldEvent } from '../../model/entries.ts';
import type { Ledger } from '../../model/ledger.ts';
import { touches } from './events-on-tree.ts';
import { byDate } from './grouped.ts';

export type Spray = Extract<FieldEvent, { kind: 'spray' }>;

/** The first day on which fruit is clear of a spray. */
export function safeFrom(spray: Spray): IsoDate {
  return addDays(spray.on, spray.waitDays);
}

/**
 * Looks up the spray whose waiting days a tree stood in on a date; of several, the one that ends
 * last. Only the sprays of the longest waiting time before the date are looked at.
 */
export function sprayDiary(ledger: Ledger): (tree: Tree, date: IsoDate) => Spray | undefined {
  const sprays = byDate(
    ledger.seasons.flatMap(({ events }) =>
      events.filter((event): event is Spray => event.kind === 'spray' && event.waitDays > 0),
    ),
  );
  const longestWait = sprays.reduce((longest, { waitDays }) => Math.max(longest, waitDays), 0);
  return (tree, date) => {
    const earliest = addDays(date, -longestWait);
    let found: Spray | undefined;
    for (let index = countUpTo(sprays, date) - 1; index >= 0; index--) {
      const spray = sprays[index];
      if (spray === undefined || spray.on < earliest) break;
      if (safeFrom(spray) <= date || !touches(ledger, spray, tree)) continue;
      if (found === undefined || safeFrom(spray) > safeFrom(found)) found = spray;
    }
    return found;
  };
}

/** How many sprays lie on or before a date. */
function countUpTo(sprays: readonly Spray[], date: IsoDate): number {
  let low = 0;
  let high = sprays.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((sprays[middle]?.on ?? date) <= date) low = middle + 1;
    else high = middle;
  }
  return low;
}
