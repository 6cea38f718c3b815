import { chiSquareUpper } from './chi-square-cdf.ts';
import { fUpper } from './f-cdf.ts';
import type { FTest } from './friedman.ts';
import { incompleteRanks, type PlacedRank } from './incomplete-ranks.ts';
import { numberAt } from './number-at.ts';

export type Durbin = {
  readonly blocks: number;
  readonly treatments: number;
  /** Treatments in every block. */
  readonly blockSize: number;
  /** Blocks that every treatment is in. */
  readonly replicates: number;
  readonly rankSums: readonly number[];
  /** Corrected for ties. */
  readonly chiSquare: number;
  readonly df: number;
  readonly p: number;
  /** Closer for few blocks; absent if all blocks agree to the full. */
  readonly fTest: FTest | undefined;
};

/**
 * Durbin's test: do treatments differ in rank over balanced incomplete blocks, as when each taster
 * gets some of the samples and every two samples meet equally often?
 *
 * D = (t - 1) [sum R^2 - r C] / (A - C) with A the sum of squared ranks and C = b k (k + 1)^2 / 4,
 * t - 1 df; F = (D / (t - 1)) / [(b (k - 1) - D) / (b k - b - t + 1)] on t - 1 and b k - b - t + 1
 * df.
 *
 * Source: Durbin 1951, British Journal of Psychology (Statistical Section) 4:85-90; Conover 1999,
 * Practical Nonparametric Statistics, 3rd ed., section 5.9. For blocks that are not balanced see
 * `skillingsMack`.
 *
 * @param values by block and treatment; undefined where a block did not have a treatment
 * @returns undefined if the blocks are not balanced (equal sizes of two or more, each two
 *   treatments together equally often), or if every block ties everything
 * @throws RangeError if blocks differ in length or a value is not finite
 */
export function durbin(values: readonly (readonly (number | undefined)[])[]): Durbin | undefined {
  const blocks = incompleteRanks(values);
  const t = values[0]?.length ?? 0;
  const k = blocks[0]?.length ?? 0;
  const b = blocks.length;
  if (t < 2 || k < 2 || !isBalanced(blocks, t)) return undefined;
  const r = (b * k) / t;
  const rankSums = new Array<number>(t).fill(0);
  let squares = 0;
  for (const { treatment, rank } of blocks.flat()) {
    rankSums[treatment] = numberAt(rankSums, treatment) + rank;
    squares += rank ** 2;
  }
  const unspread = squares - (b * k * (k + 1) ** 2) / 4;
  if (unspread === 0) return undefined;
  const spread = rankSums.reduce((sum, rankSum) => sum + (rankSum - (r * (k + 1)) / 2) ** 2, 0);
  // The sum of squares about the mean rank sum is sum R^2 - r C.
  const df = t - 1;
  const chiSquare = (df * spread) / unspread;
  const p = chiSquareUpper(chiSquare, df);
  const fTest = conoverF(chiSquare, df, b * (k - 1));
  return {
    blocks: b,
    treatments: t,
    blockSize: k,
    replicates: r,
    rankSums,
    chiSquare,
    df,
    p,
    fTest,
  };
}

function isBalanced(blocks: readonly (readonly PlacedRank[])[], treatments: number): boolean {
  const size = blocks[0]?.length;
  if (blocks.some((block) => block.length !== size)) return false;
  const meetings = new Map<number, number>();
  for (const block of blocks) {
    for (const one of block) {
      for (const other of block) {
        if (one.treatment >= other.treatment) continue;
        const pair = one.treatment * treatments + other.treatment;
        meetings.set(pair, (meetings.get(pair) ?? 0) + 1);
      }
    }
  }
  const [first] = meetings.values();
  const pairs = (treatments * (treatments - 1)) / 2;
  return meetings.size === pairs && [...meetings.values()].every((times) => times === first);
}

function conoverF(chiSquare: number, df1: number, most: number): FTest | undefined {
  const df2 = most - df1;
  if (df2 < 1 || most - chiSquare <= 1e-12 * most) return undefined;
  const f = chiSquare / df1 / ((most - chiSquare) / df2);
  return { f, df1, df2, p: fUpper(f, df1, df2) };
}
