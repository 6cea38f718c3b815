import { describe, expect, it } from 'vitest';
import { day, threeTrees } from '../../tests/support/build-ledger.ts';
import { degreeDaysUntil } from './degree-days-until.ts';

describe('degree-days', () => {
  const weather = [
    { date: '2026-01-01', tmin: 8, tmax: 20 },
    { date: '2026-01-02', tmin: 2, tmax: 6 },
    { date: '2026-01-03', tmin: 12, tmax: 20 },
    { date: '2026-01-04', tmin: 12 },
    { date: '2026-01-05', tmin: 12, tmax: 20 },
  ];
  const ledger = threeTrees({ 2026: {} }, { weather });

  it('add up from the first day of the growing year, that day and the last included', () => {
    expect(degreeDaysUntil(ledger, 2026, day('2026-01-01'))).toEqual({
      known: true,
      degreeDays: 4,
    });
    expect(degreeDaysUntil(ledger, 2026, day('2026-01-03'))).toEqual({
      known: true,
      degreeDays: 10,
    });
  });

  it('stop at the first gap and say where', () => {
    expect(degreeDaysUntil(ledger, 2026, day('2026-01-05'))).toEqual({
      known: false,
      missing: '2026-01-04',
    });
    expect(degreeDaysUntil(ledger, 2025, day('2025-01-05'))).toEqual({
      known: false,
      missing: '2025-01-01',
    });
  });
});
