import { expect, it } from 'vitest';
import { chanceWords } from './chance-words.ts';

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
