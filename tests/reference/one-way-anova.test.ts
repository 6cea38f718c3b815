import { describe, expect, it } from 'vitest';
import { fUpper } from '../../src/stats/distributions/f-distribution.ts';
import { sequentialAnova } from '../../src/stats/linear/sequential-anova.ts';
import { relativeError } from './fields.ts';
import { toNumber, toNumbers } from './narrow.ts';
import { readReference } from './read-reference.ts';

// NIST/ITL Statistical Reference Datasets, Analysis of Variance; Simon & Lesage 1989, Computational
// Statistics & Data Analysis 8:325-332. The tolerances are those that doubles can carry: rounding
// the decimals of the hardest sets to binary moves the exact answer itself.
const { cases } = readReference('b_nist_anova');

function analysed(y: readonly number[], group: readonly number[]) {
  const names = [...new Set(group)];
  const levels = group.map((one) => names.indexOf(one));
  const anova = sequentialAnova(y, [{ levels, count: names.length }]);
  return { between: anova?.terms[0], within: anova?.residual };
}

describe('analysis of variance against the certified values of NIST StRD', () => {
  for (const { id, data, expected, tolerance } of cases) {
    const certified = (key: string) => toNumber(expected[key]);
    const rel = toNumber(tolerance['rel']);

    it(`${id} within ${rel}`, () => {
      const { between, within } = analysed(toNumbers(data['y']), toNumbers(data['group']));
      expect(between?.df).toBe(certified('df_between'));
      expect(within?.df).toBe(certified('df_within'));
      expect(relativeError(between?.ss, certified('ss_between'))).toBeLessThan(rel);
      expect(relativeError(within?.ss, certified('ss_within'))).toBeLessThan(rel);
      expect(relativeError(between?.ms, certified('ms_between'))).toBeLessThan(rel);
      expect(relativeError(within?.ms, certified('ms_within'))).toBeLessThan(rel);
      expect(relativeError(between?.f, certified('F'))).toBeLessThan(rel);
    });

    it(`${id}: the p value at the certified F`, () => {
      const p = fUpper(certified('F'), certified('df_between'), certified('df_within'));
      expect(relativeError(p, certified('p_value'))).toBeLessThan(1e-8);
    });
  }

  it('meets the exact answer for the rounded decimals, even where y is 1,000,000,000,000.4', () => {
    const hardest = cases.find(({ id }) => id === 'SmLs07');
    const { between } = analysed(toNumbers(hardest?.data['y']), toNumbers(hardest?.data['group']));
    // exact rational arithmetic on the doubles; on the decimals as written it is 21
    expect(relativeError(between?.f, 21.00081188781877)).toBeLessThan(1e-12);
  });
});
