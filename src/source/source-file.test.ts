import { expect, test } from 'vitest';
import { isSpan, keyIn, type Spot, spotIn } from './source-file.ts';

const file = { path: 'seasons/2026.yaml', text: 'picks: []', bom: false };
const base: Spot = { file, path: ['picks', 0], part: 'value' };

test('a spot inside another lengthens its way', () => {
  expect(spotIn(base, 'weights', 2)).toEqual({
    file,
    path: ['picks', 0, 'weights', 2],
    part: 'value',
  });
  expect(keyIn(base, 'tree')).toEqual({ file, path: ['picks', 0, 'tree'], part: 'key' });
  expect(base.path).toEqual(['picks', 0]);
});

test('a span is told from a spot', () => {
  expect(isSpan(base)).toBe(false);
  expect(isSpan({ file, start: 0, end: 5 })).toBe(true);
});
