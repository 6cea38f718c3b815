// Least-squares means by R's lm and emmeans, re-derived there by hand from the normal equations.
// Population marginal means: Searle, Speed & Milliken 1980, The American Statistician 34:216-221.
// Barley: Immer, Hayes & Powers 1934, J. Am. Soc. Agron. 26:403-419. Tasting: Kuznetsova, Brockhoff
// & Christensen 2017, J. Stat. Softw. 82(13).
import { describe, expect, it } from 'vitest';
import { type AdditiveModel, additiveModel } from '../../src/stats/linear/additive-model.ts';
import { encode } from './encode.ts';
import { numberAt, relativeError } from './fields.ts';
import { toFields, toNumber, toNumbers, toTexts } from './narrow.ts';
import { readReference } from './read-reference.ts';

const { cases } = readReference('g_additive_models_emmeans');
const REL = 1e-11;

function modelOf(columns: Readonly<Record<string, unknown>>, of: string) {
  const [response = '', ...factors] = Object.keys(columns);
  const treatment = encode(toTexts(columns[of]));
  const model = additiveModel({
    y: toNumbers(columns[response]),
    treatment: treatment.levels,
    treatments: treatment.count,
    factors: factors
      .filter((factor) => factor !== of)
      .map((factor) => encode(toTexts(columns[factor]))),
  });
  if (model === undefined) throw new Error('no model');
  return { model, names: treatment.names };
}

function differenceSe(model: AdditiveModel, i: number, j: number): number {
  const covariance = model.groups[0]?.covariance;
  const at = (a: number, b: number): number => covariance?.[a]?.[b] ?? Number.NaN;
  return Math.sqrt(at(i, i) + at(j, j) - 2 * at(i, j));
}

describe.each(cases.filter(({ id }) => id !== 'disconnected_not_estimable'))(
  'least-squares means: $id',
  ({ data, expected }) => {
    const columns = toFields(data['columns']);
    const factors = Object.keys(columns)
      .slice(1)
      .filter((factor) => `emmeans_${factor}` in expected);

    it.each(factors)('means and standard errors of %s', (factor) => {
      const { model, names } = modelOf(columns, factor);
      const wanted = toFields(expected[`emmeans_${factor}`]);
      expect(model.rank).toBe(numberAt(expected, 'rank'));
      expect(model.df).toBe(numberAt(expected, 'df_residual'));
      const rss = (model.residualVariance ?? Number.NaN) * model.df;
      expect(relativeError(rss, numberAt(expected, 'rss'))).toBeLessThan(REL);
      for (const [at, level] of toTexts(wanted['level']).entries()) {
        const own = names.indexOf(level);
        const check = (found: number | undefined, key: string): void => {
          const value = toNumbers(wanted[key])[at] ?? Number.NaN;
          expect(relativeError(found, value), `${key} of ${level}`).toBeLessThan(REL);
        };
        check(model.means[own], 'emmean');
        check(model.standardErrors[own], 'se');
        check(model.rawMeans[own], 'raw_mean');
        check(model.counts[own], 'n');
      }
    });

    it.each(factors)('differences between levels of %s', (factor) => {
      const { model, names } = modelOf(columns, factor);
      const wanted = toFields(expected[`pairs_${factor}`]);
      const contrasts = toTexts(wanted['contrast']);
      expect(contrasts).toHaveLength((names.length * (names.length - 1)) / 2);
      for (const [at, contrast] of contrasts.entries()) {
        const [i = -1, j = -1] = contrast.split(' - ').map((name) => names.indexOf(name));
        const difference = (model.means[i] ?? Number.NaN) - (model.means[j] ?? Number.NaN);
        const estimate = toNumbers(wanted['estimate'])[at] ?? Number.NaN;
        const se = toNumbers(wanted['se'])[at] ?? Number.NaN;
        expect(relativeError(difference, estimate), contrast).toBeLessThan(REL);
        expect(relativeError(differenceSe(model, i, j), se), contrast).toBeLessThan(REL);
      }
    });
  },
);

describe('least-squares means: two seasons that share no cultivar', () => {
  const one = cases.find(({ id }) => id === 'disconnected_not_estimable');
  const { model, names } = modelOf(toFields(one?.data['columns']), 'cultivar');
  const expected = one?.expected ?? {};

  it('says which cultivars can be compared', () => {
    expect(model.rank).toBe(numberAt(expected, 'rank'));
    expect(model.df).toBe(numberAt(expected, 'df_residual'));
    const groups = model.groups.map(({ treatments }) => treatments.map((each) => names[each]));
    expect(groups).toEqual(expected['components']);
  });

  it('compares within a group as R does, and never across', () => {
    const pairs = toFields(expected['pairs']);
    const estimates = pairs['estimate'];
    const errors = pairs['se'];
    if (!Array.isArray(estimates) || !Array.isArray(errors)) throw new TypeError('no pairs');
    for (const [at, contrast] of toTexts(pairs['contrast']).entries()) {
      const [i = -1, j = -1] = contrast.split(' - ').map((name) => names.indexOf(name));
      const group = model.groups.find(
        ({ treatments }) => treatments.includes(i) && treatments.includes(j),
      );
      expect(group !== undefined, contrast).toBe(estimates[at] !== null);
      if (group === undefined) continue;
      const [a, b] = [group.treatments.indexOf(i), group.treatments.indexOf(j)];
      const c = (row: number, column: number) => group.covariance?.[row]?.[column] ?? Number.NaN;
      const difference = (group.means[a] ?? Number.NaN) - (group.means[b] ?? Number.NaN);
      expect(relativeError(difference, toNumber(estimates[at]))).toBeLessThan(REL);
      const se = Math.sqrt(c(a, a) + c(b, b) - 2 * c(a, b));
      expect(relativeError(se, toNumber(errors[at]))).toBeLessThan(REL);
    }
  });
});
