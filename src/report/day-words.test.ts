import { expect, test } from 'vitest';
import { dayAndYear, dayInWords, shortDayAndYear } from './day-words.ts';

test('a day without its year', () => {
  expect(dayInWords('2026-08-07')).toBe('7 August');
  expect(dayInWords('2026-12-31')).toBe('31 December');
});

test('a day or a month with its year', () => {
  expect(dayAndYear('2026-08-07')).toBe('7 August 2026');
  expect(dayAndYear('2026-08')).toBe('August 2026');
  expect(shortDayAndYear('2026-08-07')).toBe('7 Aug 2026');
});

test('what is no day stays as it is', () => {
  expect(dayInWords('')).toBe('');
  expect(dayInWords('2026-13-01')).toBe('2026-13-01');
  expect(dayAndYear('2026')).toBe('2026');
  expect(shortDayAndYear('7 August')).toBe('7 August');
  expect(dayAndYear('2026-13')).toBe('2026-13');
});
