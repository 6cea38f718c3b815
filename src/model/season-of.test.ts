import { expect, test } from 'vitest';
import { addDays, growingYear, type IsoDate, parseIsoDate } from './dates.ts';
import { seasonOf } from './season-of.ts';

const day = (text: string) => parseIsoDate(text) as IsoDate;

test('the calendar year north of the equator, the year that July begins south of it', () => {
  expect(seasonOf(day('2026-12-31'), 52)).toBe(2026);
  expect(seasonOf(day('2026-12-31'), undefined)).toBe(2026);
  expect(seasonOf(day('2026-06-30'), -41)).toBe(2026);
  expect(seasonOf(day('2026-07-01'), -41)).toBe(2027);
});

test('every day lies in the growing year of its season', () => {
  for (const latitude of [50, -41]) {
    for (let on = day('2023-12-25'); on < '2025-01-10'; on = addDays(on, 1)) {
      const { first, last } = growingYear(seasonOf(on, latitude), latitude);
      expect(on >= first && on <= last, `${on} at ${latitude}`).toBe(true);
    }
  }
});
