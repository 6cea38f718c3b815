import { numberAt } from './number-at.ts';

/**
 * Distribution of sum x_i y_s(i) when y is put against x in every possible order s, all equally
 * likely.
 *
 * Method: places of x are filled one after the other; orders that have used the same values of y
 * and come to the same sum are counted together, so that 2^n sets take the place of n! orders.
 *
 * @param x whole numbers
 * @param y as many whole numbers, at most 10
 * @returns how many of the n! orders come to each sum
 * @throws RangeError for different lengths or more than 10
 * @example [...matchingSums([1, 2], [1, 2])] // => [[4, 1], [5, 1]]
 */
export function matchingSums(x: readonly number[], y: readonly number[]): Map<number, number> {
  if (x.length !== y.length) throw new RangeError('the two lists differ in length');
  if (x.length > 10) throw new RangeError(`${x.length} values are too many to go through`);
  // The set of values used, as bits, leads to the counts by sum; sets of one size are complete
  // before the next.
  let level = new Map<number, Map<number, number>>([[0, new Map([[0, 1]])]]);
  for (const weight of x) {
    const next = new Map<number, Map<number, number>>();
    for (const [used, sums] of level) {
      for (let i = 0; i < y.length; i++) {
        const bit = 1 << i;
        if (used & bit) continue;
        const target = next.get(used | bit) ?? new Map<number, number>();
        next.set(used | bit, target);
        const added = weight * numberAt(y, i);
        for (const [sum, count] of sums)
          target.set(sum + added, (target.get(sum + added) ?? 0) + count);
      }
    }
    level = next;
  }
  return new Map(
    [...(level.get(2 ** y.length - 1) ?? new Map([[0, 1]]))].sort(([a], [b]) => a - b),
  );
}
