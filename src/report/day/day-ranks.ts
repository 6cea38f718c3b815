import { rankCrops } from '../../judge/index/rank.ts';
import { RANK_SEED } from '../../judge/index/simulation.ts';
import { ledgerAsOf } from '../../judge/ledger-as-of.ts';
import type { Cultivar } from '../../model/collection.ts';
import { growingYear } from '../../model/dates.ts';
import type { Crop, Ledger } from '../../model/ledger.ts';

/** Where a cultivar's crop stands by the index, and where it may truly stand. */
export interface Standing {
  readonly rank: number;
  readonly rankLow: number;
  readonly rankHigh: number;
  /** How many are ranked. */
  readonly of: number;
}

/** Looks up where a cultivar stands; undefined where it cannot be ranked. */
export type Standings = (crop: Crop, cultivar: Cultivar) => Standing | undefined;

/** By all entries, as `pomary rank` has it. */
export function standingsNow(
  ledger: Ledger,
  crops: readonly Crop[],
  confidence: number,
): Standings {
  const ranked = rankCrops(ledger, { crops }, { confidence, top: 3, seed: RANK_SEED });
  return (crop, cultivar) => {
    const own = ranked.find((one) => one.crop === crop)?.ranked ?? [];
    const found = own.find((one) => one.cultivar === cultivar);
    // One alone has nothing to be before or behind.
    if (found === undefined || own.length < 2) return undefined;
    const { rank, rankLow, rankHigh } = found;
    return { rank, rankLow, rankHigh, of: own.length };
  };
}

/** By the entries of the seasons before; undefined where there are none. */
export function standingsBefore(
  ledger: Ledger,
  season: number,
  crops: readonly Crop[],
  confidence: number,
): Standings | undefined {
  if (!ledger.seasons.some(({ year }) => year < season)) return undefined;
  const { last } = growingYear(season - 1, ledger.trial.place.latitude);
  return standingsNow(ledgerAsOf(ledger, last), crops, confidence);
}
