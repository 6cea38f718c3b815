import { numberAt } from '../numbers/number-at.ts';
import { midranks } from './midranks.ts';
import { tieSum } from './tie-sum.ts';

/** Values of treatments ranked within each block. */
export type RankTable = {
  readonly blocks: number;
  readonly treatments: number;
  /** By block and treatment; 1 for the smallest value, midranks for ties. */
  readonly ranks: readonly (readonly number[])[];
  /** By treatment. */
  readonly rankSums: readonly number[];
  /** Sum over blocks of t^3 - t for each group of t tied values. */
  readonly tieSum: number;
};

/**
 * Ranks complete blocks.
 *
 * @param values by block and treatment, every block as long as the first
 * @throws RangeError if blocks differ in length or a value is not finite
 */
export function rankTable(values: readonly (readonly number[])[]): RankTable {
  const treatments = values[0]?.length ?? 0;
  if (values.some((block) => block.length !== treatments)) {
    throw new RangeError('blocks differ in how many treatments they have');
  }
  const ranks = values.map(midranks);
  return {
    blocks: values.length,
    treatments,
    ranks,
    rankSums: Array.from({ length: treatments }, (_, treatment) =>
      ranks.reduce((sum, block) => sum + numberAt(block, treatment), 0),
    ),
    tieSum: values.reduce((sum, block) => sum + tieSum(block), 0),
  };
}
