import { describe, expect, it } from 'vitest';
import { fUpper } from '../../src/stats/f-cdf.ts';
import { oneWayAnova } from '../../src/stats/one-way-anova.ts';
import { relativeError } from './fields.ts';
import { toNumber, toNumbers } from './narrow.ts';
import { readReference } from './read-reference.ts';

// NIST/ITL Statistical Reference Datasets, Analysis of Variance; Simon & Lesage 1989, Computational
// Statistics & Data Analysis 8:325-332. The tolerances are those that doubles can carry: rounding
// the decimals of the hardest sets to binary moves the exact answer itself.
describe('one-way analysis of variance against the certified values of NIST StRD', () => {
  for (const { id, data, expected, tolerance } of readReference('b_nist_anova').cases) {
    const y = toNumbers(data['y']);
    const group = toNumbers(data['group']);
    const groups = [...new Set(group)].map((g) => y.filter((_, row) => group[row] === g));
    const certified = (key: string) => toNumber(expected[key]);
    const rel = toNumber(tolerance['rel']);

    it(`${id} within ${rel}`, () => {
      const anova = oneWayAnova(groups);
      expect(anova?.between.df).toBe(certified('df_between'));
      expect(anova?.within.df).toBe(certified('df_within'));
      expect(relativeError(anova?.between.ss, certified('ss_between'))).toBeLessThan(rel);
      expect(relativeError(anova?.within.ss, certified('ss_within'))).toBeLessThan(rel);
      expect(relativeError(anova?.between.ms, certified('ms_between'))).toBeLessThan(rel);
      expect(relativeError(anova?.within.ms, certified('ms_within'))).toBeLessThan(rel);
      expect(relativeError(anova?.f, certified('F'))).toBeLessThan(rel);
    });

    it(`${id}: the p value at the certified F`, () => {
      const p = fUpper(certified('F'), certified('df_between'), certified('df_within'));
      expect(relativeError(p, certified('p_value'))).toBeLessThan(1e-8);
    });
  }

  it('meets the exact answer for the rounded decimals, even where y is 1,000,000,000,000.4', () => {
    const hardest = readReference('b_nist_anova').cases.find(({ id }) => id === 'SmLs07');
    const y = toNumbers(hardest?.data['y']);
    const group = toNumbers(hardest?.data['group']);
    const anova = oneWayAnova(
      [...new Set(group)].map((g) => y.filter((_, row) => group[row] === g)),
    );
    // exact rational arithmetic on the doubles; on the decimals as written it is 21
    expect(relativeError(anova?.f, 21.00081188781877)).toBeLessThan(1e-12);
  });
});
