import { expect, test } from 'vitest';
import { dayInWords } from './day-words.ts';

test('a day without its year', () => {
  expect(dayInWords('2026-08-07')).toBe('7 August');
  expect(dayInWords('2026-12-31')).toBe('31 December');
});

test('what is no day stays as it is', () => {
  expect(dayInWords('')).toBe('');
  expect(dayInWords('2026-13-01')).toBe('2026-13-01');
});
