import { expect, it } from 'vitest';
import { chanceWords, inTenths } from './number-words.ts';

it.each([
  [0.9, 'p 0.90'],
  [0.21, 'p 0.21'],
  [0.0499, 'p 0.050'],
  [0.0342, 'p 0.034'],
  [0.001, 'p 0.001'],
  [0.00099, 'p below 0.001'],
  [0, 'p below 0.001'],
])('%f is "%s"', (p, words) => {
  expect(chanceWords(p)).toBe(words);
});

it('says a chance in tenths, and never makes a promise of it', () => {
  expect([0, 0.049, 0.06, 0.5, 0.94, 0.95, 1].map(inTenths)).toEqual([
    ...['less than 1 in 10', 'less than 1 in 10', '1 in 10', '5 in 10', '9 in 10'],
    ...['more than 9 in 10', 'more than 9 in 10'],
  ]);
});
