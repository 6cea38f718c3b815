import { describe, expect, it } from 'vitest';
import { buildLedger, day } from '../../../tests/support/build-ledger.ts';
import { daysDifference, seasonDays } from './season-days.ts';

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
