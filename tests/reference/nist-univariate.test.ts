// NIST/ITL Statistical Reference Datasets, univariate summary statistics: certified mean and
// standard deviation (divisor n - 1) of eight sets. The tolerances of NumAcc3 and NumAcc4 are what
// the rounding of their decimals to doubles leaves attainable.
import { describe, expect, test } from 'vitest';
import { mean } from '../../src/stats/describe/mean.ts';
import { sampleSd } from '../../src/stats/describe/variance.ts';
import { numberAt, numbersAt, relativeError } from './fields.ts';
import { type ReferenceFields, readReference } from './read-reference.ts';

/** The sets come as numbers, as a string of digits, or as a first value and a repeated pair. */
function valuesOf(data: ReferenceFields): number[] {
  const digits = data['digits'];
  if (typeof digits === 'string') return Array.from(digits, Number);
  if ('y' in data) return numbersAt(data, 'y');
  const pair = numbersAt(data, 'then_repeat_500_times');
  return [numberAt(data, 'first'), ...Array.from({ length: 500 }, () => pair).flat()];
}

describe('NIST certified mean and standard deviation', () => {
  test.each(readReference('a_nist_univariate').cases)('$id', ({ data, expected, tolerance }) => {
    const values = valuesOf(data);
    expect(values).toHaveLength(numberAt(expected, 'n'));
    expect(relativeError(mean(values), numberAt(expected, 'mean'))).toBeLessThanOrEqual(
      numberAt(tolerance, 'mean_rel'),
    );
    expect(relativeError(sampleSd(values), numberAt(expected, 'sd'))).toBeLessThanOrEqual(
      numberAt(tolerance, 'sd_rel'),
    );
  });
});
