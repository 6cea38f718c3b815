import { numberAt } from '../numbers/number-at.ts';
import { requireFinite } from '../numbers/require-finite.ts';

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
