import { describe, expect, it } from 'vitest';
import { buildLedger, day } from '../../tests/support/build-ledger.ts';
import { welchDifference } from '../stats/intervals/welch-difference.ts';
import { daysDifference, seasonDays } from './season-days.ts';

/** Hours of sleep gained, Student 1908, Biometrika 6:1-25. */
const SLEEP = [
  [0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0.0, 2.0],
  [1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4],
] as const;

function meanOf(values: readonly number[]) {
  const value = values.reduce((sum, one) => sum + one, 0) / values.length;
  const squares = values.reduce((sum, one) => sum + (one - value) ** 2, 0);
  const units = values.length;
  return { value, se: Math.sqrt(squares / (units - 1) / units), units };
}

describe('difference of two means of trees', () => {
  it('has the interval that R prints for the sleep of Student', () => {
    // t.test(extra ~ group, data = sleep): 17.776 degrees of freedom (documented output, from memory).
    const found = welchDifference(meanOf(SLEEP[0]), meanOf(SLEEP[1]), 0.95);
    expect(found.difference).toBeCloseTo(-1.58, 12);
    expect(found.low).toBeCloseTo(-3.3654832, 7);
    expect(found.high).toBeCloseTo(0.2054832, 7);
  });

  it('is that of Student where both scatter alike over as many trees', () => {
    // se sqrt(2), 2 + 2 degrees of freedom: t 2.776445.
    const found = welchDifference(
      { value: 5, se: 1, units: 3 },
      { value: 3, se: 1, units: 3 },
      0.95,
    );
    expect(found.low).toBeCloseTo(2 - 2.776445 * Math.SQRT2, 5);
  });

  it('has no interval with one tree, or without any scatter', () => {
    const none = { se: undefined, low: undefined, high: undefined };
    const three = { value: 3, se: 0.2, units: 3 };
    expect(welchDifference({ value: 5, se: undefined, units: 1 }, three, 0.95)).toEqual({
      difference: 2,
      ...none,
    });
    const flat = { value: 2, se: 0, units: 2 };
    expect(welchDifference(flat, flat, 0.95)).toEqual({ difference: 0, ...none });
  });
});

describe('days between two cultivars', () => {
  const ledger = buildLedger({
    cultivars: { amber: { name: 'Amber Lantern' }, slate: { name: 'Slate Quay' } },
    trees: { Y1: { cultivar: 'amber' }, Y2: { cultivar: 'slate' } },
    seasons: {
      2024: {
        picks: [
          { on: '2024-09-01', tree: 'Y1', fruit: 4 },
          { on: '2024-09-11', tree: 'Y1', fruit: 5 },
          { on: '2024-09-20', tree: 'Y2', fruit: 3 },
        ],
      },
      2025: { picks: [{ on: '2025-09-01', tree: 'Y1', fruit: 4 }] },
      2026: {
        picks: [
          { on: '2026-09-05', tree: 'Y1', fruit: 4 },
          { on: '2026-09-10', tree: 'Y2', fruit: 3 },
        ],
      },
    },
  });

  it('are told of the seasons in which both were picked', () => {
    expect(seasonDays(ledger, {}, 'main', ['amber', 'slate'], undefined)).toEqual([
      { season: 2024, a: '2024-09-11', b: '2024-09-20' },
      { season: 2026, a: '2026-09-05', b: '2026-09-10' },
    ]);
    expect(seasonDays(ledger, { seasons: [2025] }, 'main', ['amber', 'slate'], undefined)).toEqual(
      [],
    );
    expect(seasonDays(ledger, {}, 'early', ['amber', 'slate'], undefined)).toEqual([]);
  });

  it('have the paired interval of Student over seasons', () => {
    const seasons = [7, 5, 9].map((days, at) => ({
      season: 2024 + at,
      a: day(`${2024 + at}-09-01`),
      b: day(`${2024 + at}-09-0${1 + days}`.replace('010', '10')),
    }));
    const found = daysDifference(seasons, 0.95);
    expect(found?.difference).toBeCloseTo(-7, 12);
    // sd 2, three seasons, t of 2 degrees of freedom 4.302653 (Fisher & Yates 1963, table III)
    expect(found?.low).toBeCloseTo(-7 - (4.302653 * 2) / Math.sqrt(3), 5);
  });

  it('have no interval over one season, or where each season has the same', () => {
    const one = { season: 2024, a: day('2024-09-01'), b: day('2024-09-08') };
    const same = { season: 2025, a: day('2025-09-01'), b: day('2025-09-08') };
    expect(daysDifference([one], 0.95)).toMatchObject({ difference: -7, low: undefined });
    expect(daysDifference([one, same], 0.95)).toMatchObject({ difference: -7, high: undefined });
    expect(daysDifference([], 0.95)).toBeUndefined();
  });
});
