import type { IsoDate } from '../model/dates.ts';
import type { Ledger } from '../model/ledger.ts';

/** The ledger with the counts, picks, drops and tastings up to a day, that day included. */
export function ledgerAsOf(ledger: Ledger, day: IsoDate): Ledger {
  const upTo = <Entry extends { readonly on: IsoDate }>(entries: readonly Entry[]) =>
    entries.filter(({ on }) => on <= day);
  return {
    ...ledger,
    seasons: ledger.seasons.map((season) => ({
      ...season,
      counts: upTo(season.counts),
      picks: upTo(season.picks),
      drops: upTo(season.drops),
      tastings: upTo(season.tastings),
    })),
  };
}
