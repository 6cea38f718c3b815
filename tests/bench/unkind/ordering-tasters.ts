import { rankCrops } from '../../../src/judge/index/rank.ts';
import type { Ledger } from '../../../src/model/ledger.ts';
import { kendallTauB } from '../../support/kendall-tau-b.ts';
import type { GardenKind } from './garden-kinds.ts';
import { CONFIDENCE, grow } from './garden-tally.ts';
import type { TrueCultivar } from './garden-truth.ts';

/** What the index is worth in one garden. */
export interface Worth {
  readonly tau: number;
  /** Mean square of the index less the truth, the common shift of all taken out. */
  readonly square: number;
  readonly cover: number;
}

/** The same garden with what tasters put in order, and as if they had stayed away. */
export function withAndWithoutOrders(
  kind: GardenKind,
  seed: number,
): { readonly with: Worth; readonly without: Worth } {
  const { ledger, truth } = grow(kind, seed);
  const seasons = ledger.seasons.map((season) => ({
    ...season,
    tastings: season.tastings.map((tasting) => ({ ...tasting, orders: [] })),
  }));
  return { with: worthOf(ledger, truth), without: worthOf({ ...ledger, seasons }, truth) };
}

function worthOf(ledger: Ledger, truth: readonly TrueCultivar[]): Worth {
  const options = { confidence: CONFIDENCE / 100, top: 3, seed: 1 };
  const told = rankCrops(ledger, {}, options).flatMap(({ ranked }) =>
    ranked.map(({ cultivar, index, low, high }) => {
      const at = Number(cultivar.name.split(' ').at(-1));
      return { index, low, high, true: truth[at]?.index ?? Number.NaN };
    }),
  );
  const mean = (values: readonly number[]) =>
    values.reduce((sum, one) => sum + one) / values.length;
  const shift = mean(told.map((one) => one.index - one.true));
  const tau = kendallTauB(
    told.map((one) => one.true),
    told.map(({ index }) => index),
  );
  return {
    tau: tau?.coefficient ?? 0,
    square: mean(told.map((one) => (one.index - one.true - shift) ** 2)),
    cover: mean(told.map((one) => (one.low <= one.true && one.true <= one.high ? 1 : 0))),
  };
}
