// Harvest calendar, marketable share and degree-days from a whole ledger.
import { describe, expect, test } from 'vitest';
import { cropRecords } from '../../src/measure/crop-record.ts';
import { degreeDaysUntil } from '../../src/measure/degree-days-until.ts';
import { pickCalendar } from '../../src/measure/ripening-figures.ts';
import { soundnessFigures } from '../../src/measure/soundness-figures.ts';
import { addDays, dayNumber } from '../../src/model/dates.ts';
import { parseQuantity } from '../../src/model/quantity.ts';
import type { SeasonSketch } from '../support/build-ledger.ts';
import { buildLedger, day } from '../support/build-ledger.ts';

function ledgerOf(season: SeasonSketch) {
  return buildLedger({
    cultivars: { one: { name: 'One' } },
    trees: { T: { cultivar: 'one' } },
    seasons: { 2026: season },
  });
}

describe('harvest calendar', () => {
  // A worked example: days of the year with hundredths of the crop picked on each; the first days
  // that reach 10, 50 and 90 %, and the mean date (sum of fruit x day / sum of fruit), by hand.
  const newYear = day('2026-01-01');
  const picks = [
    [227, 12],
    [230, 35],
    [234, 80],
    [238, 65],
    [243, 38],
    [250, 10],
  ].map(([dayOfYear = 0, fruit = 0]) => ({
    on: addDays(newYear, dayOfYear - 1),
    tree: 'T',
    fruit,
  }));
  const records = cropRecords(ledgerOf({ picks }));
  const dayOfYear = (date: string | undefined) =>
    dayNumber(day(date ?? '')) - dayNumber(newYear) + 1;

  test('reaches its shares on days 230, 234 and 243, a spread of 13 days', () => {
    const calendar = pickCalendar(records);
    expect(dayOfYear(calendar?.first)).toBe(227);
    expect(dayOfYear(calendar?.p10)).toBe(230);
    expect(dayOfYear(calendar?.p50)).toBe(234);
    expect(dayOfYear(calendar?.p90)).toBe(243);
    expect(dayOfYear(calendar?.last)).toBe(250);
    expect(calendar?.windowDays).toBe(23);
    expect(dayOfYear(calendar?.p90) - dayOfYear(calendar?.p10)).toBe(13);
  });
});

describe('marketable share by number', () => {
  // Wilson 1927, JASA 22:209-212, to a tenth of a percent: 6/40 7.1 to 29.1 %, 0/10 0 to 27.8 %,
  // 1/10 1.8 to 40.4 %, 0/25 0 to 13.3 %; here for the sound rest. 0.0 and 100.0 are exact.
  test.each([
    [40, { split: 3, bird: 2, insect: 1 }, '85.0', '70.9', '92.9'],
    [10, {}, '100.0', '72.2', '100.0'],
    [10, { mould: 1 }, '90.0', '59.6', '98.2'],
    [25, {}, '100.0', '86.7', '100.0'],
  ])('of %i fruit with %j is %s %%, from %s to %s %%', (fruit, defects, share, low, high) => {
    const ledger = ledgerOf({ picks: [{ on: '2026-08-01', tree: 'T', fruit, ...defects }] });
    const figures = soundnessFigures(cropRecords(ledger), 0.95);
    const percent = (value: number | undefined) => ((value ?? Number.NaN) * 100).toFixed(1);
    expect([figures.share, figures.low, figures.high].map(percent)).toEqual([share, low, high]);
  });
});

describe('degree-days of a season', () => {
  // Esparto, California, 1 to 6 January 2020, base 55 F, upper limit 93.9 F: published single sine
  // values of each day to two decimals (where they were printed was not noted). Degrees Fahrenheit go
  // in and are converted on the way, so this holds the units too.
  const published = [
    { low: 38, high: 55, degreeDays: 0 },
    { low: 36, high: 67, degreeDays: 3.31 },
    { low: 33, high: 59, degreeDays: 0.68 },
    { low: 37, high: 59, degreeDays: 0.74 },
    { low: 38, high: 63, degreeDays: 1.99 },
    { low: 36, high: 58, degreeDays: 0.48 },
  ];
  const celsius = (fahrenheit: number): number =>
    parseQuantity(`${fahrenheit} degF`, 'temperature', 'metric') ?? Number.NaN;
  const newYear = day('2020-01-01');
  const ledger = buildLedger({
    trial: { degreeDays: { base: celsius(55), upper: celsius(93.9), method: 'sine' } },
    cultivars: {},
    trees: {},
    seasons: { 2020: {} },
    weather: published.map(({ low, high }, at) => ({
      date: addDays(newYear, at),
      tmin: celsius(low),
      tmax: celsius(high),
    })),
  });

  test.each(published.map((_, at) => at + 1))('add up over %i days', (days) => {
    const sum = degreeDaysUntil(ledger, 2020, addDays(newYear, days - 1));
    if (!sum.known) throw new Error(`missing ${sum.missing}`);
    const wanted = published.slice(0, days).reduce((all, one) => all + one.degreeDays, 0);
    // Each published day is rounded to half a hundredth.
    expect(Math.abs(sum.degreeDays * 1.8 - wanted)).toBeLessThanOrEqual(0.005 * days);
  });
});
