import { rankCrops } from '../../../src/judge/index/rank.ts';
import { RANK_SEED } from '../../../src/judge/index/simulation.ts';
import { judgeRankings, type Verdict } from '../../../src/judge/verdict/verdict.ts';
import { upTo } from './garden.ts';
import type { GardenKind } from './garden-kinds.ts';
import { CONFIDENCE, grow, numberOf } from './garden-tally.ts';

/** A row of `rank --by cover` and `verdict --by cover` against what is true of the cultivar under that cover. */
export interface CoverRow {
  readonly trial: number;
  readonly truth: number;
  readonly low: number;
  readonly high: number;
  /** Sittings at which it was tasted, from that cover. */
  readonly tastings: number;
  /** Whether something weighed was seen under the other cover alone. */
  readonly borrows: boolean;
  /** With any number of tastings sufficing. */
  readonly verdict: Verdict;
  readonly marks: { readonly increase_above: number; readonly discard_below: number };
}

export function coverRows(kind: GardenKind, trials: number, firstSeed: number): CoverRow[] {
  return upTo(trials).flatMap((trial) => {
    const { ledger, truth, marks } = grow(kind, firstSeed + trial);
    const options = { confidence: CONFIDENCE / 100, top: 3, seed: RANK_SEED, byCover: true };
    const judged = judgeRankings(ledger, rankCrops(ledger, {}, options));
    return judged.flatMap(({ cultivar, cover, low, high, tastings, borrows, verdict }) => {
      const own = truth[numberOf(cultivar)]?.under[cover === 'glass' ? 'glass' : 'open'];
      if (low === undefined || high === undefined || own === undefined) return [];
      return [
        { trial, truth: own, low, high, tastings, borrows: borrows.length > 0, verdict, marks },
      ];
    });
  });
}
