import { chiSquareUpper } from '../distributions/chi-square-cdf.ts';
import { fUpper } from '../distributions/f-distribution.ts';
import { type RankTable, rankTable } from './rank-table.ts';

/** An F statistic and the probability of one as great if nothing differs. */
export type FTest = {
  readonly f: number;
  readonly df1: number;
  readonly df2: number;
  readonly p: number;
};

export type Friedman = Omit<RankTable, 'ranks'> & {
  readonly meanRanks: readonly number[];
  /** Corrected for ties. */
  readonly chiSquare: number;
  /** As it would be without ties. */
  readonly uncorrected: number;
  readonly df: number;
  /** Upper tail of chi-square, an approximation that is far off for few blocks, either way (see `friedmanChance`). */
  readonly p: number;
  /**
   * Iman and Davenport's F, closer for few blocks; absent for one block, or if all blocks agree to
   * the full.
   */
  readonly fTest: FTest | undefined;
};

/**
 * Friedman's test: do treatments differ in rank over complete blocks?
 *
 * chi-square = [12 sum R^2 / (b k (k + 1)) - 3 b (k + 1)] / [1 - sum(t^3 - t) / (b k (k^2 - 1))], k
 * - 1 df; F = (b - 1) chi-square / (b (k - 1) - chi-square) on k - 1 and (b - 1)(k - 1) df.
 *
 * Source: Friedman 1937, JASA 32:675-701; ISO 8587:2006, Sensory analysis - Ranking; Iman and
 * Davenport 1980, Communications in Statistics A9:571-595.
 *
 * @param values by block (a taster) and treatment, larger or smaller being better alike; ranked
 *   within blocks
 * @returns undefined with fewer than two treatments, without blocks, or if every block ties
 *   everything
 * @throws RangeError if blocks differ in length or a value is not finite
 */
export function friedman(values: readonly (readonly number[])[]): Friedman | undefined {
  const { ranks: _, ...table } = rankTable(values);
  const { blocks: b, treatments: k, rankSums } = table;
  if (b < 1 || k < 2) return undefined;
  // Around the mean rank sum, so that the squares do not cancel.
  const spread = rankSums.reduce((sum, rankSum) => sum + (rankSum - (b * (k + 1)) / 2) ** 2, 0);
  const uncorrected = (12 * spread) / (b * k * (k + 1));
  const untied = 1 - table.tieSum / (b * k * (k * k - 1));
  if (untied <= 0) return undefined;
  const chiSquare = uncorrected / untied;
  const df = k - 1;
  return {
    ...table,
    meanRanks: rankSums.map((sum) => sum / b),
    chiSquare,
    uncorrected,
    df,
    p: chiSquareUpper(chiSquare, df),
    fTest: imanDavenport(chiSquare, b, df),
  };
}

function imanDavenport(chiSquare: number, blocks: number, df: number): FTest | undefined {
  const most = blocks * df;
  // At full agreement the difference is 0 but for rounding and F has no bound.
  if (blocks < 2 || most - chiSquare <= 1e-12 * most) return undefined;
  const f = ((blocks - 1) * chiSquare) / (most - chiSquare);
  const df2 = (blocks - 1) * df;
  return { f, df1: df, df2, p: fUpper(f, df, df2) };
}
