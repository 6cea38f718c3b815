// Agreement of judges. Intraclass correlation: Shrout & Fleiss 1979, Psychological Bulletin
// 86:420-428, table 2.
import { describe, expect, it } from 'vitest';
import {
  type AgreementEstimate,
  intraclassCorrelation,
} from '../../src/stats/linear/intraclass-correlation.ts';
import { absoluteError, numberAt, numbersAt, relativeError } from './fields.ts';
import { toFields, toList, toNumbers } from './narrow.ts';
import { readReference } from './read-reference.ts';

const { cases } = readReference('k_icc');

describe.each(cases)('intraclass correlation: $id', ({ data, expected }) => {
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
    const check = (name: string, agreement: AgreementEstimate | undefined): void => {
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
