import { describe, expect, test } from 'vitest';
import { type SeasonSketch, threeTrees } from '../../tests/support/build-ledger.ts';
import { type IsoDate, parseIsoDate } from '../model/dates.ts';
import { cropRecords } from './crop-record.ts';
import { pickCalendar } from './ripening-figures.ts';
import { openSeason, recordsUnderWay, soFar } from './under-way.ts';

const day = (text: string) => parseIsoDate(text) as IsoDate;

/** How far the crops of 2026 have come on a day. */
function farOn(today: string | undefined, season: SeasonSketch, frost = {}) {
  const ledger = threeTrees({ 2026: season }, { frost });
  const records = cropRecords(ledger);
  const isUnderWay = recordsUnderWay(ledger, today === undefined ? undefined : day(today));
  return { far: soFar(records, isUnderWay), calendar: pickCalendar(records, isUnderWay) };
}

const BEGUN: SeasonSketch = {
  counts: [{ on: '2026-07-02', tree: 'G1', fruit: 21 }],
  picks: [{ on: '2026-07-22', tree: 'G1', fruit: 1 }],
};

describe('the season that is open', () => {
  const ledger = threeTrees({ 2025: BEGUN, 2026: BEGUN });

  test('is the last one, until its growing year is over', () => {
    expect(openSeason(ledger, day('2026-07-23'))).toBe(2026);
    expect(openSeason(ledger, day('2026-12-31'))).toBe(2026);
    expect(openSeason(ledger, day('2027-01-01'))).toBeUndefined();
    expect(openSeason(ledger, undefined)).toBeUndefined();
  });

  test('is not closed by a clock that is behind the entries', () => {
    expect(openSeason(ledger, day('2019-01-01'))).toBe(2026);
  });

  test('is over with the first frost', () => {
    const frozen = threeTrees({ 2026: BEGUN }, { frost: { 2026: '2026-10-29' } });
    expect(openSeason(frozen, day('2026-11-01'))).toBeUndefined();
  });
});

describe('a crop under way', () => {
  test('is one of which fruit hangs by the count', () => {
    expect(farOn('2026-07-23', BEGUN).far).toEqual({ picked: 1, of: 21 });
    const all = { ...BEGUN, drops: [{ on: '2026-07-22', tree: 'G1', fruit: 20 }] };
    expect(farOn('2026-07-23', all).far).toBeUndefined();
    expect(farOn('2027-02-01', BEGUN).far).toBeUndefined();
  });

  test('is one that nobody counted, for four weeks from its last pick', () => {
    const uncounted = { picks: [{ on: '2026-07-22', tree: 'G1', fruit: 3 }] };
    expect(farOn('2026-08-18', uncounted).far).toEqual({ picked: 3, of: undefined });
    expect(farOn('2026-08-19', uncounted).far).toBeUndefined();
  });

  test('is not the early crop of a tree whose main crop is being picked', () => {
    const both: SeasonSketch = {
      counts: [{ on: '2026-06-20', tree: 'G1', crop: 'early', fruit: 9 }],
      picks: [
        { on: '2026-07-10', tree: 'G1', crop: 'early', fruit: 2 },
        { on: '2026-08-20', tree: 'G1', crop: 'main', fruit: 2 },
      ],
    };
    const ledger = threeTrees({ 2026: both });
    const isUnderWay = recordsUnderWay(ledger, day('2026-08-21'));
    expect(
      cropRecords(ledger)
        .filter(isUnderWay)
        .map(({ crop }) => crop),
    ).toEqual(['main']);
  });

  test('has a day for a share only where that share of all that hung is in', () => {
    const half: SeasonSketch = {
      counts: [{ on: '2026-07-02', tree: 'G1', fruit: 22 }],
      picks: [
        { on: '2026-07-22', tree: 'G1', fruit: 2 },
        { on: '2026-07-30', tree: 'G1', fruit: 8 },
      ],
      drops: [{ on: '2026-07-25', tree: 'G1', fruit: 2 }],
    };
    const { calendar } = farOn('2026-08-01', half);
    // Two fell, so 20 is all: 10 of them are half.
    expect(calendar).toMatchObject({ first: '2026-07-22', p10: '2026-07-22', p50: '2026-07-30' });
    expect(calendar).toMatchObject({ last: '2026-07-30', p90: undefined, windowDays: undefined });
    expect(farOn('2026-07-23', BEGUN).calendar).toMatchObject({ p10: undefined, p50: undefined });
    expect(farOn('2027-01-01', BEGUN).calendar).toMatchObject({
      p50: '2026-07-22',
      soFar: undefined,
    });
  });

  test('has no such day where nobody counted', () => {
    const uncounted = { picks: [{ on: '2026-07-22', tree: 'G1', fruit: 3 }] };
    expect(farOn('2026-07-23', uncounted).calendar).toMatchObject({
      p10: undefined,
      p90: undefined,
    });
  });
});
