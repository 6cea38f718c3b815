// Agreement of judges. Intraclass correlation: Shrout & Fleiss 1979, Psychological Bulletin
// 86:420-428, table 2. Kappa: Cohen 1968, Psychological Bulletin 70:213-220; Fleiss, Cohen & Everitt
// 1969, 72:323-327; tables from Agresti 1990 and Landis & Koch 1977 (sources in the file).
import { describe, expect, it } from 'vitest';
import { type Agreement, intraclassCorrelation } from '../../src/stats/intraclass-correlation.ts';
import { weightedKappa } from '../../src/stats/weighted-kappa.ts';
import { absoluteError, numberAt, numbersAt, relativeError } from './fields.ts';
import { toFields, toList, toNumbers } from './narrow.ts';
import { readReference } from './read-reference.ts';

const { cases } = readReference('k_kappa_icc');
const tables = cases.filter(({ data }) => 'table' in data);
const judged = cases.filter(({ data }) => 'rows_targets_cols_judges' in data);

describe.each(judged)('intraclass correlation: $id', ({ data, expected }) => {
  const marks = toList(data['rows_targets_cols_judges']).map(toNumbers);
  const found = intraclassCorrelation(marks, 0.95);

  it('mean squares', () => {
    const pairs = { targets: 'BMS', within: 'WMS', judges: 'JMS', residual: 'EMS' } as const;
    for (const [key, name] of Object.entries(pairs)) {
      const mean = found?.meanSquares[key as keyof typeof pairs];
      expect(relativeError(mean, numberAt(expected, name)), name).toBeLessThan(1e-13);
    }
  });

  it('correlations and their intervals', () => {
    const intervals = toFields(expected['ci95']);
    const check = (name: string, agreement: Agreement | undefined): void => {
      const error = relativeError(agreement?.estimate, numberAt(expected, name));
      expect(error, name).toBeLessThan(1e-12);
      const [low = Number.NaN, high = Number.NaN] = numbersAt(intervals, name);
      expect(absoluteError(agreement?.low, low), name).toBeLessThan(1e-8);
      expect(absoluteError(agreement?.high, high), name).toBeLessThan(1e-8);
    };
    check('ICC1_1', found?.single.oneWay);
    check('ICC2_1', found?.single.twoWayRandom);
    check('ICC3_1', found?.single.twoWayFixed);
    check('ICC1_k', found?.average.oneWay);
    check('ICC2_k', found?.average.twoWayRandom);
    check('ICC3_k', found?.average.twoWayFixed);
  });
});

describe.each(tables)('kappa: $id', ({ data, expected }) => {
  it.each([
    ['unweighted', 'none'],
    ['linear', 'linear'],
    ['quadratic', 'quadratic'],
  ] as const)('%s', (key, weights) => {
    const wanted = toFields(expected[key]);
    const found = weightedKappa(toList(data['table']).map(toNumbers), weights);
    expect(relativeError(found?.observed, numberAt(wanted, 'po'))).toBeLessThan(1e-13);
    expect(relativeError(found?.expected, numberAt(wanted, 'pe'))).toBeLessThan(1e-13);
    expect(relativeError(found?.kappa, numberAt(wanted, 'kappa'))).toBeLessThan(1e-13);
    expect(relativeError(found?.se, numberAt(wanted, 'ase'))).toBeLessThan(1e-12);
  });
});

describe('kappa: the example of Cohen 1968, with weights of his own', () => {
  const one = cases.find(({ id }) => id === 'cohen_1968');
  const data = toFields(one?.data);
  const expected = toFields(one?.expected);
  const shares = toList(data['proportions']).map(toNumbers);

  it('unweighted', () => {
    const kappa = weightedKappa(shares, 'none')?.kappa;
    expect(relativeError(kappa, numberAt(expected, 'unweighted_kappa'))).toBeLessThan(1e-13);
  });

  it('weighted: his disagreement weights 0 to 6, turned into agreement', () => {
    const weights = toList(data['disagreement_weights']).map((row) =>
      toNumbers(row).map((weight) => 1 - weight / 6),
    );
    const kappa = weightedKappa(shares, weights)?.kappa;
    expect(relativeError(kappa, numberAt(expected, 'weighted_kappa'))).toBeLessThan(1e-13);
  });
});
