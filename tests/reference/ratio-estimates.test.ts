// Ratio of totals with its linearised standard error: Cochran 1977, Sampling Techniques, 3rd ed.,
// sec. 6.1 to 6.3 (49 large cities), and small constructed sets; R 4.2.2.
import { describe, expect, test } from 'vitest';
import { ratioEstimate } from '../../src/stats/intervals/ratio-estimate.ts';
import { tInterval } from '../../src/stats/intervals/t-interval.ts';
import { numberAt, numbersAt, relativeError } from './fields.ts';
import { readReference } from './read-reference.ts';

const ratios = readReference('n_ratio_and_rates').cases.filter(({ data }) => 'y' in data);

describe('ratio estimator', () => {
  test('the file holds the four sets', () => expect(ratios).toHaveLength(4));

  test.each(ratios)('$id', ({ data, expected, tolerance }) => {
    const units = numberAt(expected, 'n');
    const found = ratioEstimate(numbersAt(data, 'y'), numbersAt(data, 'x'));
    if (found?.se === undefined) throw new TypeError('no estimate');
    // Where the sample was drawn from a population of known size, the printed standard error holds
    // the finite population correction, which the estimator leaves out.
    const size = data['N'];
    const correction = typeof size === 'number' ? Math.sqrt(1 - units / size) : 1;
    const allowed = numberAt(tolerance, 'rel');
    const se = found.se * correction;
    expect(found.units).toBe(units);
    expect(relativeError(found.ratio, numberAt(expected, 'ratio'))).toBeLessThanOrEqual(allowed);
    expect(relativeError(se, numberAt(expected, 'se_linearised'))).toBeLessThanOrEqual(allowed);
    const { low, high } = tInterval(found.ratio, se, units - 1, 0.95);
    const [wantedLow = Number.NaN, wantedHigh = Number.NaN] = numbersAt(expected, 'ci95_t');
    expect(relativeError(low, wantedLow)).toBeLessThanOrEqual(allowed);
    expect(relativeError(high, wantedHigh)).toBeLessThanOrEqual(allowed);
  });
});
