import { allows } from '../../measure/selection.ts';
import type { Sample, Taster } from '../../model/entries.ts';
import type { Ledger } from '../../model/ledger.ts';
import { siteOn } from '../../model/standing.ts';
import { counted, listed } from '../words.ts';
import type { PostRequest } from './post-request.ts';

/** What was tasted in the selection, ripe or not. */
export interface TastingTotals {
  readonly sittings: number;
  readonly samples: number;
  readonly scores: number;
  readonly orders: number;
  /** Who gave a score or an order, in the ledger's order. */
  readonly tasters: readonly Taster[];
}

export function tastingTotals(ledger: Ledger, { selection }: PostRequest): TastingTotals {
  const sittings = ledger.seasons
    .filter(({ year }) => allows(selection.seasons, year))
    .flatMap(({ tastings }) => tastings)
    .map((tasting) => {
      const isIn = ({ tree, crop }: Sample) =>
        allows(selection.crops, crop) &&
        allows(selection.cultivars, tree.cultivar.key) &&
        allows(selection.trees, tree.id) &&
        allows(selection.sites, siteOn(ledger, tree, tasting.on));
      return {
        samples: tasting.samples.filter(isIn),
        scores: tasting.scores.filter(({ sample }) => isIn(sample)),
        orders: tasting.orders.filter(({ ranks }) => ranks.flat().some(isIn)),
      };
    })
    .filter(({ samples }) => samples.length > 0);
  const scores = sittings.flatMap((one) => one.scores);
  const orders = sittings.flatMap((one) => one.orders);
  const active = new Set([...scores, ...orders].map(({ taster }) => taster));
  return {
    sittings: sittings.length,
    samples: sittings.flatMap((one) => one.samples).length,
    scores: scores.length,
    orders: orders.length,
    tasters: [...ledger.trial.tasters.values()].filter((taster) => active.has(taster)),
  };
}

/** Tasters by number, or by first name where they are to be named. */
export function tasterNumberWords(tasters: readonly Taster[], areNamed: boolean): string {
  const number = counted(tasters.length, 'taster');
  if (!areNamed || tasters.length === 0) return number;
  const names = tasters.map(({ name }) => name.trim().split(/\s+/u)[0] ?? name);
  return `${number} (${listed(names, 20)})`;
}
