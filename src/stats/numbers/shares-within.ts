import { numberAt } from './number-at.ts';

/** Shares of exp(value) in the sum over its group, as worths that sum to 1. */
export function sharesWithin(
  logs: Float64Array,
  groups: readonly (readonly number[])[],
): Float64Array {
  const result = new Float64Array(logs.length);
  for (const group of groups) {
    const worths = group.map((item) => Math.exp(numberAt(logs, item)));
    const total = worths.reduce((sum, worth) => sum + worth, 0);
    for (const [i, item] of group.entries()) result[item] = numberAt(worths, i) / total;
  }
  return result;
}
