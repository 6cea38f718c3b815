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
