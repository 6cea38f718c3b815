// Variance components and predictions by dense Fisher scoring in R, agreeing with lme4 and, where
// printed, with Pinheiro & Bates 2000, Mixed-Effects Models in S and S-PLUS, Davies & Goldsmith 1972,
// Statistical Methods in Research and Production, and Box & Tiao 1973 (sources in the file).
import { describe, expect, it } from 'vitest';
import { reml } from '../support/reml/reml.ts';
import { encode } from './encode.ts';
import { absoluteError, numberAt, numbersAt, relativeError } from './fields.ts';
import { toFields, toTexts } from './narrow.ts';
import { type ReferenceCase, readReference } from './read-reference.ts';

const REL = 1e-10;

/** Intercept and one column for each level of the fixed factor but the first, as R codes it. */
function fixedRows(columns: Readonly<Record<string, unknown>>, factor: string | undefined) {
  const rows = toTexts(columns[Object.keys(columns)[1] ?? '']).length;
  if (factor === undefined) return Array.from({ length: rows }, () => [1]);
  const { levels, count } = encode(toTexts(columns[factor]));
  return levels.map((level) =>
    Array.from({ length: count }, (_, at) => (at === 0 || at === level ? 1 : 0)),
  );
}

function fitOf({ data }: ReferenceCase) {
  const columns = toFields(data['columns']);
  const model = String(data['model']);
  const names = [...model.matchAll(/\(1 \| (\w+)\)/g)].map(([, name = '']) => name);
  const random = names.map((name) => encode(toTexts(columns[name])));
  const fixed = fixedRows(columns, /1 \+ (\w+) \+/.exec(model)?.[1]);
  const fit = reml({ y: numbersAt(columns, Object.keys(columns)[0] ?? ''), fixed, random });
  if (fit === undefined) throw new Error('no fit');
  return { fit, names, random };
}

describe.each(readReference('h_reml_blup').cases)('$id', (one) => {
  const { expected } = one;
  const { fit, names, random } = fitOf(one);

  it('variances, exact zeros among them, with their standard errors', () => {
    expect(fit.converged).toBe(true);
    const wanted = toFields(expected['variance_components']);
    const errors = toFields(expected['vc_se_expected_information']);
    const found = [...fit.variances, fit.residual];
    for (const [at, name] of [...names, 'Residual'].entries()) {
      expect(relativeError(found[at], numberAt(wanted, name)), name).toBeLessThan(REL);
      const se = Math.sqrt(fit.varianceCovariance[at]?.[at] ?? Number.NaN);
      expect(relativeError(se, numberAt(errors, name)), name).toBeLessThan(REL);
    }
  });

  it('fixed effects with their standard errors, and the likelihood', () => {
    const estimates = Object.values(toFields(expected['fixed'])).map(Number);
    const errors = Object.values(toFields(expected['fixed_se'])).map(Number);
    expect(fit.fixed.estimates).toHaveLength(estimates.length);
    for (const [at, estimate] of estimates.entries()) {
      expect(relativeError(fit.fixed.estimates[at], estimate)).toBeLessThan(REL);
      const se = Math.sqrt(fit.fixed.covariance[at]?.[at] ?? Number.NaN);
      expect(relativeError(se, errors[at] ?? Number.NaN)).toBeLessThan(REL);
    }
    expect(absoluteError(fit.logLikelihood, numberAt(expected, 'reml_loglik'))).toBeLessThan(1e-9);
  });

  it.each(names)('predictions for %s with their errors', (name) => {
    const at = names.indexOf(name);
    const wanted = toFields(toFields(expected['blups'])[name]);
    const blups = numbersAt(wanted, 'blup');
    const largest = Math.max(...blups.map(Math.abs));
    expect(fit.blups[at]).toHaveLength(blups.length);
    for (const [place, level] of toTexts(wanted['level']).entries()) {
      const own = random[at]?.names.indexOf(level) ?? -1;
      const error = absoluteError(fit.blups[at]?.[own], blups[place] ?? Number.NaN);
      expect(error, level).toBeLessThanOrEqual(REL * largest);
      const se = numbersAt(wanted, 'se_prediction_error')[place] ?? Number.NaN;
      expect(relativeError(fit.blupSe[at]?.[own], se), level).toBeLessThan(REL);
    }
  });
});
