// F quantiles: Newton at 60 digits. Pearson & Hartley 1966, Biometrika Tables for Statisticians, table 18.
import { expect, it } from 'vitest';
import { fQuantile } from '../../src/stats/distributions/f-distribution.ts';
import { numericRows, relativeError } from './fields.ts';
import { readReference } from './read-reference.ts';

// Beyond that range the F distribution function that it inverts loses digits, as its docstring says.
it('F quantile on the grid, from 0.00001 to 100,000', () => {
  const grid = readReference('d_distributions').cases.find(({ id }) => id === 'F_quantile');
  const rows = numericRows(grid?.expected ?? {});
  const within = rows.filter(([, , , q = 0]) => q > 1e-5 && q < 1e5);
  expect([rows.length, within.length]).toEqual([180, 158]);
  for (const [p = 0, d1 = 0, d2 = 0, q = 0] of within) {
    expect(relativeError(fQuantile(p, d1, d2), q), `${p} ${d1} ${d2}`).toBeLessThan(1e-10);
  }
});
