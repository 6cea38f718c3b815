import { CholeskyDecomposition, Matrix } from 'ml-matrix';
import { chiSquareUpper } from './chi-square-cdf.ts';
import { connectedGroups } from './connected-groups.ts';
import { incompleteRanks } from './incomplete-ranks.ts';

export type SkillingsMack = {
  /** Blocks with two or more treatments: the others say nothing. */
  readonly blocks: number;
  /** By treatment, weighted sums of centred ranks; they sum to 0. */
  readonly scores: readonly number[];
  readonly chiSquare: number;
  readonly df: number;
  readonly p: number;
};

/**
 * The Skillings-Mack test: do treatments differ in rank over blocks from which any treatments may
 * be missing?
 *
 * A_j = sum over blocks of sqrt(12 / (s_i + 1)) (r_ij - (s_i + 1) / 2), s_i treatments in block i;
 * T = A' V^- A, where V has minus the number of blocks that hold both treatments off its diagonal
 * and rows that sum to 0. Chi-square on treatments - 1 df, fewer by one for each further group that
 * blocks do not join. Without missing values and ties it is Friedman's test. Ties make it slightly
 * conservative.
 *
 * Source: Skillings and Mack 1981, Technometrics 23:171-177; Hollander and Wolfe 1999,
 * Nonparametric Statistical Methods, section 7.8.
 *
 * @param values by block and treatment; undefined where a block did not have a treatment
 * @returns undefined if no block has two treatments
 * @throws RangeError if blocks differ in length or a value is not finite
 */
export function skillingsMack(
  values: readonly (readonly (number | undefined)[])[],
): SkillingsMack | undefined {
  const treatments = values[0]?.length ?? 0;
  const blocks = incompleteRanks(values).filter((block) => block.length > 1);
  const scores = Matrix.zeros(treatments, 1);
  const variance = Matrix.zeros(treatments, treatments);
  for (const block of blocks) {
    const size = block.length;
    for (const { treatment: row, rank } of block) {
      const centred = Math.sqrt(12 / (size + 1)) * (rank - (size + 1) / 2);
      scores.set(row, 0, scores.get(row, 0) + centred);
      for (const { treatment: column } of block) {
        const share = row === column ? size - 1 : -1;
        variance.set(row, column, variance.get(row, column) + share);
      }
    }
  }
  const members = blocks.map((block) => block.map(({ treatment }) => treatment));
  const groups = connectedGroups(treatments, members);
  const df = treatments - groups.length;
  if (df < 1) return undefined;
  // The variance has nothing on the sum of a group, where scores have nothing either: anything may
  // be added there.
  for (const group of groups) {
    for (const row of group) {
      for (const column of group) variance.set(row, column, variance.get(row, column) + 1);
    }
  }
  const solved = new CholeskyDecomposition(variance).solve(scores);
  const chiSquare = scores.transpose().mmul(solved).get(0, 0);
  const p = chiSquareUpper(chiSquare, df);
  return { blocks: blocks.length, scores: scores.to1DArray(), chiSquare, df, p };
}
