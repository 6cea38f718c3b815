import type { Tree } from './collection.ts';
import type { IsoDate } from './dates.ts';
import type { EventTarget } from './entries.ts';
import type { Ledger } from './ledger.ts';
import { siteOn } from './standing.ts';

/** What stands in place of a site where every tree is meant, unless a site bears that key. */
export const WHOLE_TRIAL = 'all';

/** Whether an event touched a tree: itself, the site where it stood that day, or the whole trial. */
export function touches(
  ledger: Ledger,
  event: { readonly target: EventTarget; readonly on: IsoDate },
  tree: Tree,
): boolean {
  switch (event.target.kind) {
    case 'tree':
      return event.target.tree === tree;
    case 'site':
      return event.target.site === siteOn(ledger, tree, event.on);
    case 'trial':
      return true;
  }
}
