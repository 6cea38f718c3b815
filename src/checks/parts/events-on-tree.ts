import type { Tree } from '../../model/collection.ts';
import type { IsoDate } from '../../model/dates.ts';
import type { FieldEvent } from '../../model/entries.ts';
import type { Ledger } from '../../model/ledger.ts';
import { touches } from '../../model/touches.ts';

/** Whether a tree was pruned or damaged by winter after one day and up to another. */
export function wasCutBack(ledger: Ledger, tree: Tree, after: IsoDate, upTo: IsoDate): boolean {
  return ledger.seasons.some((season) =>
    season.events.some((event) => isCut(event, after, upTo) && touches(ledger, event, tree)),
  );
}

function isCut(event: FieldEvent, after: IsoDate, upTo: IsoDate): boolean {
  const cuts = event.kind === 'prune' || event.kind === 'winter-damage';
  return cuts && event.on >= after && event.on <= upTo;
}
