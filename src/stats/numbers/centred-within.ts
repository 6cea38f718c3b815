import { numberAt } from './number-at.ts';

/** Values less the mean of their group; every value is in exactly one group. */
export function centredWithin(
  logs: Float64Array,
  groups: readonly (readonly number[])[],
): Float64Array {
  const result = Float64Array.from(logs);
  for (const group of groups) {
    const mean = group.reduce((sum, item) => sum + numberAt(logs, item), 0) / group.length;
    for (const item of group) result[item] = numberAt(logs, item) - mean;
  }
  return result;
}
