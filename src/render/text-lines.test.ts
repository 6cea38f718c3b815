import fc from 'fast-check';
import { expect, test } from 'vitest';
import { displayWidth } from '../source/display-width.ts';
import { hang, wrapWords } from './text-lines.ts';

test('words are wrapped and long ones broken', () => {
  expect(wrapWords('no tasting of the main crop', 12)).toEqual([
    'no tasting',
    'of the main',
    'crop',
  ]);
  expect(wrapWords('abcdefgh ij', 3)).toEqual(['abc', 'def', 'gh', 'ij']);
  expect(wrapWords('abcdefgh ij', 3, true)).toEqual(['abcdefgh', 'ij']);
  expect(wrapWords('', 10)).toEqual(['']);
});

test('a note hangs behind its lead', () => {
  expect(hang('- ', 'one two three', 9)).toEqual(['- one two', '  three']);
});

test('lines keep to the width and lose no letter', () => {
  const unit = fc.constantFrom('a', 'bc', ' ', '日', 'e\u0301', '🍇');
  const text = fc.array(unit, { maxLength: 80 }).map((units) => units.join(''));
  fc.assert(
    fc.property(text, fc.integer({ min: 2, max: 40 }), (one, width) => {
      const lines = wrapWords(one, width);
      for (const line of lines) expect(displayWidth(line)).toBeLessThanOrEqual(width);
      expect(lines.join('').replaceAll(' ', '')).toBe(one.replaceAll(' ', ''));
    }),
  );
});
