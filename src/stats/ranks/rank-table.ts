import { numberAt } from '../numbers/number-at.ts';
import { requireFinite } from '../numbers/require-finite.ts';

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

/**
 * Ranks from 1 for the smallest, equal values sharing the mean of the ranks that they take up.
 *
 * Source: Kendall and Gibbons 1990, Rank Correlation Methods, 5th ed., chapter 3.
 *
 * @param values finite, in any order; not modified
 * @returns ranks in the order of the values; they sum to n (n + 1) / 2
 * @throws RangeError if a value is not finite
 * @example midranks([7, 3, 7, 1]) // => [3.5, 2, 3.5, 1]
 */
export function midranks(values: readonly number[]): number[] {
  requireFinite('values', values);
  const order = values.map((_, i) => i).sort((a, b) => numberAt(values, a) - numberAt(values, b));
  const ranks = new Array<number>(values.length).fill(0);
  for (let first = 0; first < order.length; ) {
    const value = numberAt(values, numberAt(order, first));
    let end = first + 1;
    while (end < order.length && numberAt(values, numberAt(order, end)) === value) end++;
    for (const i of order.slice(first, end)) ranks[i] = (first + 1 + end) / 2;
    first = end;
  }
  return ranks;
}

/**
 * Sum of t^3 - t over groups of t equal values: what corrections for ties are made of.
 *
 * Source: Kendall and Gibbons 1990, Rank Correlation Methods, 5th ed., chapter 3.
 *
 * @example tieSum([1, 2, 2, 5, 5, 5]) // => 30
 */
export function tieSum(values: Iterable<number>): number {
  const counts = new Map<number, number>();
  for (const value of values) counts.set(value, (counts.get(value) ?? 0) + 1);
  let sum = 0;
  for (const count of counts.values()) sum += count ** 3 - count;
  return sum;
}
