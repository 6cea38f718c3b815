import type { Tree } from '../model/collection.ts';
import { addDays, type IsoDate } from '../model/dates.ts';
import type { FieldEvent } from '../model/entries.ts';
import type { Ledger } from '../model/ledger.ts';
import { siteOn } from '../model/standing.ts';

type Spray = Extract<FieldEvent, { kind: 'spray' }>;

/** A spray after which a tree's fruit may not be eaten yet. */
export interface WaitingSpray {
  readonly product: string;
  readonly on: IsoDate;
  /** First day on which the fruit is clear of it. */
  readonly clearOn: IsoDate;
}

/**
 * The spray in whose waiting days a tree stands on a day; of several, the one that ends last. The
 * day of the spray counts as waiting unless it asks for no days at all.
 */
export function sprayWaiting(ledger: Ledger, tree: Tree, on: IsoDate): WaitingSpray | undefined {
  return ledger.seasons
    .flatMap(({ events }) => events)
    .filter((event): event is Spray => event.kind === 'spray' && event.on <= on)
    .filter((spray) => reaches(ledger, spray, tree))
    .map((spray) => ({
      product: spray.product,
      on: spray.on,
      clearOn: addDays(spray.on, spray.waitDays),
    }))
    .filter(({ clearOn }) => on < clearOn)
    .toSorted((a, b) => (a.clearOn < b.clearOn ? 1 : -1))[0];
}

function reaches(ledger: Ledger, { target, on }: Spray, tree: Tree): boolean {
  switch (target.kind) {
    case 'trial':
      return true;
    case 'site':
      return siteOn(ledger, tree, on) === target.site;
    case 'tree':
      return target.tree === tree;
  }
}
