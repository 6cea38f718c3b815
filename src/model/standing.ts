import type { Tree } from './collection.ts';
import type { IsoDate, PartialDate } from './dates.ts';
import type { FieldEvent } from './entries.ts';
import type { Ledger } from './ledger.ts';

type Move = Extract<FieldEvent, { kind: 'move' }>;

const movesOf = new WeakMap<Ledger, ReadonlyMap<Tree, readonly Move[]>>();

/** Every move of each tree over all seasons, oldest first. */
function moves(ledger: Ledger): ReadonlyMap<Tree, readonly Move[]> {
  const known = movesOf.get(ledger);
  if (known !== undefined) return known;
  const byTree = new Map<Tree, Move[]>();
  for (const season of ledger.seasons) {
    for (const event of season.events) {
      if (event.kind !== 'move' || event.target.kind !== 'tree') continue;
      const list = byTree.get(event.target.tree);
      if (list === undefined) byTree.set(event.target.tree, [event]);
      else list.push(event);
    }
  }
  for (const list of byTree.values()) list.sort((a, b) => (a.on < b.on ? -1 : a.on > b.on ? 1 : 0));
  movesOf.set(ledger, byTree);
  return byTree;
}

/** Key of the site where a tree stood on a date; on the day of a move, the new site. */
export function siteOn(ledger: Ledger, tree: Tree, date: IsoDate): string {
  let site = tree.site;
  for (const move of moves(ledger).get(tree) ?? []) {
    if (move.on > date) break;
    site = move.site;
  }
  return site;
}

interface Arrival {
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
