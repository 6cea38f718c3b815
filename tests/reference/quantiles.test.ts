// Quantiles of type 7 as defined by Hyndman & Fan 1996, The American Statistician 50(4):361-365,
// computed with R 4.2.2 and again from the paper's formula; median and MAD alongside.
import { describe, expect, test } from 'vitest';
import { median, medianAbsoluteDeviation, quantile } from '../../src/stats/describe/quantile.ts';
import { absoluteError, numberAt, numbersAt } from './fields.ts';
import { readReference } from './read-reference.ts';

describe('quantiles of type 7, median and scaled MAD', () => {
  test.each(readReference('c_quantiles').cases)('$id', ({ data, expected, tolerance }) => {
    const values = numbersAt(data, 'x');
    const shares = numbersAt(data, 'p');
    const size = Math.max(1, ...values.map(Math.abs));
    const allowed = numberAt(tolerance, 'abs') * size;
    const wanted = numbersAt(expected, 'type7');
    expect(shares).toHaveLength(wanted.length);
    for (const [at, share] of shares.entries()) {
      const error = absoluteError(quantile(values, share), wanted[at] ?? Number.NaN);
      expect(error, `p = ${share}`).toBeLessThanOrEqual(allowed);
    }
    expect(absoluteError(median(values), numberAt(expected, 'median'))).toBeLessThanOrEqual(
      allowed,
    );
    const spread = numberAt(expected, 'mad_scaled_1.4826');
    expect(absoluteError(medianAbsoluteDeviation(values), spread)).toBeLessThanOrEqual(allowed);
  });
});
