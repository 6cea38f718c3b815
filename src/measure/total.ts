/**
 * Adds up whole numbers, such as fruit, over some entries. They add up exactly, so there is no
 * rounding to compensate as in `sum`; a ledger has many of them.
 */
export function total<T>(entries: readonly T[], of: (entry: T) => number): number {
  let all = 0;
  for (const entry of entries) all += of(entry);
  return all;
}
