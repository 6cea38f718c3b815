// Grids of the normal, t, F and chi-square distributions, computed with 60 digits and in agreement
// with R 4.2.2; printed tables in Pearson & Hartley 1966, Biometrika Tables for Statisticians,
// vol. 1, tables 7, 9, 12 and 18. Both tails are compared by relative error, the upper one too, so
// that a small p value is right in its digits and not merely small.
import { describe, expect, test } from 'vitest';
import { chiSquareCdf, chiSquareUpper } from '../../src/stats/distributions/chi-square-cdf.ts';
import { fCdf, fUpper } from '../../src/stats/distributions/f-distribution.ts';
import { normalCdf } from '../../src/stats/distributions/normal-cdf.ts';
import { normalQuantile } from '../../src/stats/distributions/normal-quantile.ts';
import { tQuantile } from '../../src/stats/distributions/t-quantile.ts';
import { tCdf } from '../support/t-cdf.ts';
import { numberAt, numericRows, relativeError } from './fields.ts';
import { readReference } from './read-reference.ts';

const { cases } = readReference('d_distributions');

/** Each row of a grid: what the function gives and what the grid holds. */
type Pick = (row: readonly number[]) => readonly [got: number, wanted: number];

const at = (row: readonly number[], column: number): number => {
  const held = row[column];
  if (held === undefined) throw new TypeError(`no column ${column}`);
  return held;
};

const grids: readonly (readonly [name: string, id: string, rows: number, pick: Pick])[] = [
  ['normal, lower tail', 'normal_cdf', 15, (row) => [normalCdf(at(row, 0)), at(row, 1)]],
  ['normal, upper tail', 'normal_cdf', 15, (row) => [normalCdf(-at(row, 0)), at(row, 2)]],
  ['normal quantile', 'normal_quantile', 16, (row) => [normalQuantile(at(row, 0)), at(row, 1)]],
  ['t, lower tail', 't_cdf', 70, (row) => [tCdf(at(row, 0), at(row, 1)), at(row, 2)]],
  ['t, upper tail', 't_cdf', 70, (row) => [tCdf(-at(row, 0), at(row, 1)), at(row, 3)]],
  ['t quantile', 't_quantile', 77, (row) => [tQuantile(at(row, 0), at(row, 1)), at(row, 2)]],
  ['F, lower tail', 'F_cdf', 240, (row) => [fCdf(at(row, 0), at(row, 1), at(row, 2)), at(row, 3)]],
  [
    'F, upper tail',
    'F_cdf',
    240,
    (row) => [fUpper(at(row, 0), at(row, 1), at(row, 2)), at(row, 4)],
  ],
  [
    'chi-square, lower tail',
    'chisq_cdf',
    56,
    (row) => [chiSquareCdf(at(row, 0), at(row, 1)), at(row, 2)],
  ],
  [
    'chi-square, upper tail',
    'chisq_cdf',
    56,
    (row) => [chiSquareUpper(at(row, 0), at(row, 1)), at(row, 3)],
  ],
  [
    'chi-square at its quantiles',
    'chisq_quantile',
    56,
    (row) => [chiSquareCdf(at(row, 2), at(row, 1)), at(row, 0)],
  ],
];

describe('distribution functions and quantiles', () => {
  test.each(grids)('%s', (_name, id, count, pick) => {
    const found = cases.find((one) => one.id === id);
    if (found === undefined) throw new TypeError(`no grid ${id}`);
    const rows = numericRows(found.expected);
    expect(rows).toHaveLength(count);
    for (const row of rows) {
      const [got, wanted] = pick(row);
      expect(relativeError(got, wanted), `${row}: ${got}`).toBeLessThanOrEqual(
        numberAt(found.tolerance, 'rel'),
      );
    }
  });

  // The upper tail at the tabled percentage points: how p values are asked for in practice.
  test('F at its 95 and 99 % points', () => {
    const found = cases.find((one) => one.id === 'F_quantile');
    const points = numericRows(found?.expected ?? {}).filter(([p = 0]) => p === 0.95 || p === 0.99);
    expect(points).toHaveLength(60);
    for (const row of points) {
      const upper = fUpper(at(row, 3), at(row, 1), at(row, 2));
      expect(relativeError(upper, 1 - at(row, 0)), String(row)).toBeLessThanOrEqual(1e-12);
    }
  });
});
