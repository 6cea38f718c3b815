import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { IsoDate } from './dates.ts';
import {
  addDays,
  dateOfDay,
  dayNumber,
  daysBetween,
  growingYear,
  parseIsoDate,
  parsePartialDate,
  seasonOf,
} from './dates.ts';

const date = (text: string): IsoDate => {
  const real = parseIsoDate(text);
  if (real === undefined) throw new Error(`${text} is no date`);
  return real;
};

/** From 0100-01-01 to 9999-12-31: a year below 100 is a slip of the pen, and refused. */
const anyDay = fc.integer({ min: -683_003, max: 2_932_896 });

describe('dates', () => {
  it.each([
    '2024-02-29',
    '2000-02-29',
    '2026-01-01',
    '2026-12-31',
    '2026-04-30',
    '0100-01-01',
    '9999-12-31',
  ])('%s is real', (text) => {
    expect(parseIsoDate(text)).toBe(text);
  });

  // Gregorian leap years: not the centuries, but each fourth of them (ISO 8601-1:2019).
  it.each([
    '2026-02-29',
    '1900-02-29',
    '2100-02-29',
    '2026-02-30',
    '2026-04-31',
    '2026-13-01',
    '2026-00-10',
    '2026-01-00',
    '2026-1-1',
    '26-01-01',
    '0026-01-01',
    '2026/01/01',
    '2026-01-01T00:00',
    ' 2026-01-01',
    '',
  ])('"%s" is not', (text) => {
    expect(parseIsoDate(text)).toBeUndefined();
  });

  it('count days from 1 January 1970', () => {
    expect(dayNumber(date('1970-01-01'))).toBe(0);
    expect(dayNumber(date('1969-12-31'))).toBe(-1);
    // 30 years with the leap days of 1972, 76, 80, 84, 88, 92 and 96.
    expect(dayNumber(date('2000-01-01'))).toBe(30 * 365 + 7);
    expect(daysBetween(date('2024-02-28'), date('2024-03-01'))).toBe(2);
    expect(daysBetween(date('2026-03-01'), date('2026-02-28'))).toBe(-1);
  });

  it('come back from their number', () => {
    fc.assert(
      fc.property(anyDay, (number) => {
        const there = dateOfDay(number);
        expect(parseIsoDate(there)).toBe(there);
        expect(dayNumber(there)).toBe(number);
        expect(dateOfDay(dayNumber(there))).toBe(there);
      }),
    );
  });

  it('stand in the order of their text', () => {
    fc.assert(
      fc.property(anyDay, anyDay, (a, b) => {
        expect(dateOfDay(a) < dateOfDay(b)).toBe(a < b);
      }),
    );
  });

  it('go on by days over the end of months and years', () => {
    expect(addDays(date('2026-12-31'), 1)).toBe('2027-01-01');
    expect(addDays(date('2024-03-01'), -1)).toBe('2024-02-29');
  });
});

describe('partial dates', () => {
  it.each([
    ['2024', '2024-01-01', '2024-12-31'],
    ['2024-02', '2024-02-01', '2024-02-29'],
    ['2026-02', '2026-02-01', '2026-02-28'],
    ['2026-12', '2026-12-01', '2026-12-31'],
    ['2024-03-09', '2024-03-09', '2024-03-09'],
  ])('%s is between %s and %s', (text, earliest, latest) => {
    expect(parsePartialDate(text)).toEqual({ text, earliest, latest });
  });

  it.each(['2024-13', '2024-00', '2026-02-29', 'spring 2024', '24', ''])('"%s" is none', (text) => {
    expect(parsePartialDate(text)).toBeUndefined();
  });
});

describe('growing year', () => {
  it.each([52.1, 0, undefined])('at latitude %s is the calendar year', (latitude) => {
    expect(growingYear(2026, latitude)).toEqual({ first: '2026-01-01', last: '2026-12-31' });
  });

  it('south of the equator ends in June of the year that names it', () => {
    expect(growingYear(2026, -41.3)).toEqual({ first: '2025-07-01', last: '2026-06-30' });
  });

  it.each([
    ['2026-07-01', 52.1, 2026],
    ['2026-12-31', undefined, 2026],
    ['2026-06-30', -41.3, 2026],
    ['2026-07-01', -41.3, 2027],
    ['2027-01-01', -41.3, 2027],
  ])('%s at latitude %s is of season %i', (day, latitude, season) => {
    expect(seasonOf(date(day), latitude)).toBe(season);
  });

  it('holds every date of its season and no other', () => {
    fc.assert(
      fc.property(fc.integer({ min: -50_000, max: 50_000 }), fc.boolean(), (day, south) => {
        const latitude = south ? -40 : 40;
        const on = dateOfDay(day);
        const { first, last } = growingYear(seasonOf(on, latitude), latitude);
        expect(on >= first && on <= last).toBe(true);
      }),
    );
  });
});
