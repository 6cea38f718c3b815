import type { Tree } from './collection.ts';
import type { IsoDate, PartialDate } from './dates.ts';

export interface Arrival {
  readonly key: 'received' | 'planted';
  readonly date: PartialDate;
}

/** When a tree came: received, or else planted, whichever its entry puts earlier. */
export function arrivalOf(tree: Tree): Arrival | undefined {
  const { received, planted } = tree;
  if (received === undefined) {
    return planted === undefined ? undefined : { key: 'planted', date: planted };
  }
  return planted !== undefined && planted.earliest < received.earliest
    ? { key: 'planted', date: planted }
    : { key: 'received', date: received };
}

/**
 * Whether a tree may stand on a day, by what is known of its coming and going: where only the month
 * or the year is known, all of it counts. The day of removal counts too, since it may be picked.
 */
export function mayStandOn(tree: Tree, day: IsoDate): boolean {
  const arrival = arrivalOf(tree);
  const came = arrival === undefined || arrival.date.earliest <= day;
  return came && (tree.removed === undefined || day <= tree.removed.latest);
}
