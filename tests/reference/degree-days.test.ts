// Growing degree-days: McMaster & Wilhelm 1997, Agricultural and Forest Meteorology 87:291-300
// (methods 1 and 2); Baskerville & Emin 1969, Ecology 50:514-517 (single sine), the sine also
// integrated numerically.
import { describe, expect, test } from 'vitest';
import { type DegreeDayOptions, degreeDays } from '../../src/stats/describe/degree-days.ts';
import { absoluteError, numberAt, numbersAt, recordRows } from './fields.ts';
import { readReference } from './read-reference.ts';

const { cases } = readReference('p_growing_degree_days');

const columns: readonly (readonly [
  method: DegreeDayOptions['method'],
  plain: string,
  limited: string,
])[] = [
  ['mean', 'mcmaster_wilhelm_method1', 'method1_with_upper'],
  ['cut', 'mcmaster_wilhelm_method2', 'method2_with_upper'],
  ['sine', 'single_sine_no_upper', 'single_sine_horizontal_upper'],
];

describe('degree-days of a day', () => {
  test.each(columns)('%s', (method, plain, limited) => {
    const table = cases.find(({ id }) => id === 'daily_gdd_table');
    const rows = recordRows(table?.expected ?? {});
    const allowed = numberAt(table?.tolerance ?? {}, 'abs');
    expect(rows).toHaveLength(13);
    for (const row of rows) {
      const [tmin, tmax] = [numberAt(row, 'tmin'), numberAt(row, 'tmax')];
      const [base, upper] = [numberAt(row, 'base'), numberAt(row, 'upper')];
      const open = degreeDays(tmin, tmax, { base, method });
      expect(absoluteError(open, numberAt(row, plain)), plain).toBeLessThanOrEqual(allowed);
      const capped = degreeDays(tmin, tmax, { base, upper, method });
      expect(absoluteError(capped, numberAt(row, limited)), limited).toBeLessThanOrEqual(allowed);
    }
  });

  test('five days add up', () => {
    const season = cases.find(({ id }) => id === 'season_sum_and_rounding');
    if (season === undefined) throw new TypeError('no season');
    const base = numberAt(season.data, 'base');
    const highest = numbersAt(season.data, 'tmax');
    const total = (method: DegreeDayOptions['method']): number =>
      numbersAt(season.data, 'tmin').reduce(
        (sum, tmin, day) => sum + degreeDays(tmin, highest[day] ?? tmin, { base, method }),
        0,
      );
    expect(total('mean')).toBeCloseTo(numberAt(season.expected, 'sum_method1'), 9);
    expect(total('cut')).toBeCloseTo(numberAt(season.expected, 'sum_method2'), 9);
    expect(total('sine')).toBeCloseTo(numberAt(season.expected, 'sum_single_sine'), 9);
  });
});

describe('printed and worked days', () => {
  // Esparto, California, 1 to 6 January 2020, base 55 F, upper 93.9 F: published single sine values
  // to two decimals (where they were printed was not noted), recomputed with the formula. The figures
  // are unit-free, so Fahrenheit holds.
  test.each([
    [38, 55, 0],
    [36, 67, 3.31],
    [33, 59, 0.68],
    [37, 59, 0.74],
    [38, 63, 1.99],
    [36, 58, 0.48],
  ])('%d to %d F gives %d by the single sine', (tmin, tmax, printed) => {
    const found = degreeDays(tmin, tmax, { base: 55, upper: 93.9, method: 'sine' });
    expect(absoluteError(found, printed)).toBeLessThanOrEqual(0.005);
  });

  // Worked from the three formulas, to three decimals.
  test.each([
    { day: [12, 24], base: 10, upper: undefined, wanted: [8, 8, 8] },
    { day: [4, 20], base: 10, upper: undefined, wanted: [2, 5, 3.626] },
    { day: [2, 14], base: 10, upper: undefined, wanted: [0, 2, 1.017] },
    { day: [5, 15], base: 10, upper: undefined, wanted: [0, 2.5, 1.592] },
    { day: [3, 18], base: 10, upper: undefined, wanted: [0.5, 4, 2.643] },
    { day: [8, 10], base: 10, upper: undefined, wanted: [0, 0, 0] },
    { day: [-1, 9], base: 10, upper: undefined, wanted: [0, 0, 0] },
    { day: [14, 32], base: 10, upper: undefined, wanted: [13, 13, 13] },
    { day: [14, 32], base: 10, upper: 30, wanted: [13, 12, 12.714] },
    { day: [7, 14], base: 12, upper: 33, wanted: [0, 1, 0.468] },
    { day: [45, 75], base: 50, upper: undefined, wanted: [10, 12.5, 10.882] },
    { day: [40, 58], base: 50, upper: undefined, wanted: [0, 4, 2.382] },
    { day: [63, 87], base: 50, upper: undefined, wanted: [25, 25, 25] },
    { day: [63, 87], base: 50, upper: 86, wanted: [25, 24.5, 24.913] },
    { day: [54, 88], base: 50, upper: 86, wanted: [21, 20, 20.793] },
  ])('$day over $base, up to $upper', ({ day: [tmin = 0, tmax = 0], base, upper, wanted }) => {
    for (const [at, method] of (['mean', 'cut', 'sine'] as const).entries()) {
      const found = degreeDays(tmin, tmax, { base, upper, method });
      expect(absoluteError(found, wanted[at] ?? Number.NaN), method).toBeLessThanOrEqual(0.0005);
    }
  });
});
