import { numberAt } from './number-at.ts';

/**
 * Covariance of values after the mean of each one's group has been taken from it.
 *
 * @param covariance symmetric, of the values; rows and columns after the last one of a group are
 *   left out
 * @param groups of row numbers; every row up to the last is in exactly one
 */
export function centredCovariance(
  covariance: readonly (readonly number[])[],
  groups: readonly (readonly number[])[],
): number[][] {
  const size = groups.reduce((sum, group) => sum + group.length, 0);
  const rows = covariance.slice(0, size).map((row) => row.slice(0, size));
  // Taking group means from the columns of a symmetric matrix, twice with a turn between, does both
  // sides.
  return withoutMeans(transposed(withoutMeans(rows, groups)), groups);
}

function withoutMeans(
  rows: readonly (readonly number[])[],
  groups: readonly (readonly number[])[],
): number[][] {
  return rows.map((row) => {
    const rest = [...row];
    for (const group of groups) {
      const mean = group.reduce((sum, i) => sum + numberAt(row, i), 0) / group.length;
      for (const i of group) rest[i] = numberAt(row, i) - mean;
    }
    return rest;
  });
}

function transposed(rows: readonly (readonly number[])[]): number[][] {
  return rows.map((_, i) => rows.map((row) => numberAt(row, i)));
}

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
