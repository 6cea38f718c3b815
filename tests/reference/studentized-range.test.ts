import { describe, expect, it } from 'vitest';
import {
  studentizedRangeQuantile,
  studentizedRangeUpper,
} from '../../src/stats/distributions/studentized-range.ts';
import { tCdf } from '../support/t-cdf.ts';
import { relativeError } from './fields.ts';
import { toList, toNumber } from './narrow.ts';
import { readReference } from './read-reference.ts';

// Independent composite Gauss-Legendre quadrature (see `how` in the file), which also reproduces the
// printed tables of Harter 1960, Annals of Mathematical Statistics 31:1122-1147, and of Pearson &
// Hartley 1966, Biometrika Tables for Statisticians, table 29.
const reference = readReference('d_distributions');
const caseOf = (id: string) => {
  const found = reference.cases.find((each) => each.id === id);
  if (found === undefined) throw new Error(`no case ${id}`);
  return found;
};
const rowsOf = (id: string) => toList(caseOf(id).expected['rows']).map((row) => toList(row));

describe('studentized range against independent quadrature', () => {
  it('upper tail on the whole grid, degrees of freedom 1 to infinity', () => {
    const rows = rowsOf('studentized_range_cdf');
    expect(rows.length).toBe(360);
    for (const row of rows) {
      const [q, groups, df] = row.slice(0, 3).map(toNumber);
      const upper = toNumber(row[4]);
      const found = studentizedRangeUpper(q ?? NaN, groups ?? NaN, df ?? NaN);
      expect(Math.abs(found - upper), `q ${q}, ${groups} groups, df ${df}`).toBeLessThan(1e-13);
    }
  });

  it('quantile on the whole grid, upper tails 0.1 to 0.000001', () => {
    const rows = rowsOf('studentized_range_quantile');
    expect(rows.length).toBe(315);
    for (const row of rows) {
      const [alpha, groups, df] = row.slice(0, 3).map(toNumber);
      const found = studentizedRangeQuantile(1 - (alpha ?? NaN), groups ?? NaN, df ?? NaN);
      const where = `upper ${alpha}, ${groups} groups, df ${df}`;
      expect(relativeError(found, toNumber(row[3])), where).toBeLessThan(1e-10);
    }
  });

  it('small tails keep their digits: two groups, known error, is the normal distribution', () => {
    // P(Q > 10) = erfc(5) = 1.5374597944280348502e-12 (Abramowitz & Stegun 1964, table 7.3)
    const upper = studentizedRangeUpper(10, 2, Number.POSITIVE_INFINITY);
    expect(relativeError(upper, 1.537459794428035e-12)).toBeLessThan(1e-13);
  });

  it('with two groups it is Student t at q / sqrt 2, two-sided, also at fractions of a df', () => {
    for (const df of [0.5, 1, 1.5, 2, 4.7, 30, 1000, 100_000]) {
      for (const q of [0.1, 1, 3, 6, 40]) {
        const exact = 2 * tCdf(-q / Math.SQRT2, df);
        const found = studentizedRangeUpper(q, 2, df);
        expect(relativeError(found, exact), `q ${q}, df ${df}`).toBeLessThan(1e-10);
      }
    }
  });
});

// Printed 5 % and 1 % points, last digit within one: Harter 1960 and Pearson & Hartley 1966, table 29
// (the points of 3 means at 10 and 20, 5 means at 20 degrees of freedom are from memory).
describe('studentized range against printed tables', () => {
  it.each([
    [0.05, 3, 10, 3.877],
    [0.05, 3, 20, 3.578],
    [0.05, 5, 20, 4.232],
    [0.05, 3, 3, 5.91],
    [0.01, 3, 10, 5.27],
  ])('upper %f, %i means, df %i: %f', (alpha, groups, df, printed) => {
    const found = studentizedRangeQuantile(1 - alpha, groups, df);
    const unit = Number.isInteger(printed * 100) ? 0.01 : 0.001;
    expect(Math.abs(found - printed)).toBeLessThanOrEqual(unit);
  });
});
