// Analyses of variance, least significant differences, Tukey-Kramer comparisons and letters by R
// (lm, emmeans, TukeyHSD, multcompView; sources of the data sets in the file). Tukey-Kramer: Kramer
// 1956, Biometrics 12:307-310. Letters: Piepho 2004, J. Comput. Graph. Stat. 13:456-466.
import { describe, expect, it } from 'vitest';
import { studentizedRangeQuantile } from '../../src/stats/distributions/studentized-range.ts';
import { additiveModel } from '../../src/stats/linear/additive-model.ts';
import { compactLetters } from '../../src/stats/linear/compact-letters.ts';
import { leastSignificantDifference } from '../../src/stats/linear/least-significant-difference.ts';
import { sequentialAnova } from '../../src/stats/linear/sequential-anova.ts';
import { tukeyKramer } from '../../src/stats/linear/tukey-kramer.ts';
import { tCdf } from '../support/t-cdf.ts';
import { encode } from './encode.ts';
import { absoluteError, numberAt, numbersAt, relativeError } from './fields.ts';
import { toFields, toList, toTexts } from './narrow.ts';
import { type ReferenceCase, readReference } from './read-reference.ts';

const { cases } = readReference('f_anova_lsd_tukey_cld');

function analyse({ data, expected }: ReferenceCase) {
  const columns = toFields(data['columns']);
  const y = numbersAt(columns, Object.keys(columns)[0] ?? '');
  const anova = toFields(expected['anova']);
  const terms = toTexts(anova['terms']).slice(0, -1);
  const factors = terms.map((term) => encode(toTexts(columns[term])));
  const treatment = factors.at(-1);
  if (treatment === undefined) throw new Error('no treatment');
  const model = additiveModel({
    y,
    treatment: treatment.levels,
    treatments: treatment.count,
    factors: factors.slice(0, -1),
  });
  const group = model?.groups[0];
  if (model === undefined || group?.covariance === undefined) throw new Error('no model');
  const pairs = tukeyKramer({
    means: group.means,
    covariance: group.covariance,
    df: model.df,
    alpha: 0.05,
  });
  return { y, anova, factors, treatment, model, pairs };
}

describe.each(cases)('$id', (one) => {
  const { expected } = one;
  const { y, anova, factors, treatment, model, pairs } = analyse(one);
  const { names } = treatment;

  it('analysis of variance, blocks first', () => {
    const found = sequentialAnova(y, factors);
    const lines = [...(found?.terms ?? []), found?.residual];
    for (const [at, line] of lines.entries()) {
      expect(line?.df).toBe(numbersAt(anova, 'df')[at]);
      expect(relativeError(line?.ss, numbersAt(anova, 'ss')[at] ?? 0)).toBeLessThan(1e-12);
      expect(relativeError(line?.ms, numbersAt(anova, 'ms')[at] ?? 0)).toBeLessThan(1e-12);
    }
    const tests = found?.terms ?? [];
    const wantedF = toList(anova['F']);
    const wantedP = toList(anova['p']);
    expect(tests).toHaveLength(wantedF.length - 1);
    for (const [at, { f, p }] of tests.entries()) {
      expect(relativeError(f, Number(wantedF[at]))).toBeLessThan(1e-12);
      expect(relativeError(p, Number(wantedP[at]))).toBeLessThan(1e-11);
    }
  });

  it('adjusted means with their standard errors', () => {
    const means = toFields(expected['means']);
    const errors = toFields(expected['mean_se']);
    for (const [each, name] of names.entries()) {
      expect(relativeError(model.means[each], numberAt(means, name))).toBeLessThan(1e-12);
      expect(relativeError(model.standardErrors[each], numberAt(errors, name))).toBeLessThan(1e-12);
    }
  });

  it('pairs: differences, least significant differences and Tukey-Kramer', () => {
    const q = studentizedRangeQuantile(0.95, names.length, model.df);
    expect(relativeError(q, numberAt(expected, 'q_crit'))).toBeLessThan(1e-6);
    const wanted = toList(expected['pairs']).map(toFields);
    expect(wanted).toHaveLength(pairs.length);
    for (const want of wanted) {
      const [a, b] = [names.indexOf(String(want['a'])), names.indexOf(String(want['b']))];
      const pair = pairs.find(({ first, second }) => first === a && second === b);
      if (pair === undefined) throw new Error(`no pair ${want['a']} ${want['b']}`);
      const { difference, se, p, halfWidth } = pair;
      expect(relativeError(difference, numberAt(want, 'diff'))).toBeLessThan(1e-11);
      expect(relativeError(se, numberAt(want, 'se'))).toBeLessThan(1e-12);
      const lsd = leastSignificantDifference(se, model.df, 0.05);
      expect(relativeError(lsd, numberAt(want, 'lsd'))).toBeLessThan(1e-11);
      const unadjusted = 2 * tCdf(-Math.abs(difference / se), model.df);
      expect(relativeError(unadjusted, numberAt(want, 'p_lsd_unadjusted'))).toBeLessThan(1e-8);
      expect(absoluteError(p, numberAt(want, 'p_tukey'))).toBeLessThan(1e-7);
      expect(relativeError(halfWidth, numberAt(want, 'tukey_halfwidth'))).toBeLessThan(1e-6);
    }
  });

  it.each([
    ['cld_tukey', true],
    ['cld_lsd_unprotected', false],
  ])('letters: %s', (key, adjusted) => {
    const wanted = toFields(expected[key]);
    const order = Object.keys(toFields(expected['means']))
      .map((name) => names.indexOf(name))
      .sort((i, j) => (model.means[j] ?? 0) - (model.means[i] ?? 0));
    const differs = (i: number, j: number): boolean => {
      const pair = pairs.find(
        ({ first, second }) => first === Math.min(i, j) && second === Math.max(i, j),
      );
      if (pair === undefined) throw new Error('no pair');
      const lsd = leastSignificantDifference(pair.se, model.df, 0.05);
      return adjusted ? pair.differs : Math.abs(pair.difference) > lsd;
    };
    const letters = compactLetters(differs, order);
    const found = Object.fromEntries(order.map((each, place) => [names[each], letters[place]]));
    expect(found).toEqual(wanted);
  });
});
