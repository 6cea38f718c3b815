import type { Tree } from '../model/collection.ts';
import { addDays, dayNumber, type IsoDate } from '../model/dates.ts';
import type { FieldEvent } from '../model/entries.ts';
import type { Ledger } from '../model/ledger.ts';
import { touches } from '../model/touches.ts';

export type Spray = Extract<FieldEvent, { kind: 'spray' }>;

/** A spray with the day it was done and the first day clear of it, as days since 1970. */
interface Wait {
  readonly spray: Spray;
  readonly from: number;
  readonly clear: number;
}

/** The first date on which fruit is clear of a spray. */
export function safeFrom(spray: Spray): IsoDate {
  return addDays(spray.on, spray.waitDays);
}

/**
 * Looks up the spray whose waiting days a tree stood in on a date; of several, the one that ends
 * last, of those that `counts` takes. Only the sprays within the longest waiting time before the date are looked at.
 */
export function sprayDiary(
  ledger: Ledger,
): (tree: Tree, date: IsoDate, counts?: (spray: Spray) => boolean) => Spray | undefined {
  const waits = allWaits(ledger);
  const longest = waits.reduce((most, { from, clear }) => Math.max(most, clear - from), 0);
  if (waits.length === 0) return () => undefined;
  return (tree, date, counts = () => true) => {
    const day = dayNumber(date);
    let found: Wait | undefined;
    for (let index = countUpTo(waits, day) - 1; index >= 0; index--) {
      const wait = waits[index];
      if (wait === undefined || wait.from + longest <= day) break;
      if (wait.clear <= day || (found !== undefined && wait.clear <= found.clear)) continue;
      if (counts(wait.spray) && touches(ledger, wait.spray, tree)) found = wait;
    }
    return found?.spray;
  };
}

/** Every spray that asks for waiting, oldest first. */
function allWaits(ledger: Ledger): readonly Wait[] {
  const waits: Wait[] = [];
  for (const season of ledger.seasons) {
    for (const event of season.events) {
      if (event.kind !== 'spray' || event.waitDays === 0) continue;
      const from = dayNumber(event.on);
      waits.push({ spray: event, from, clear: from + event.waitDays });
    }
  }
  return waits.sort((a, b) => a.from - b.from);
}

/** How many sprays lie on or before a day. */
function countUpTo(waits: readonly Wait[], day: number): number {
  let low = 0;
  let high = waits.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((waits[middle]?.from ?? day) <= day) low = middle + 1;
    else high = middle;
  }
  return low;
}
