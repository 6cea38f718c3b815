import fc from 'fast-check';
import { expect, test } from 'vitest';
import { visible } from './visible.ts';

test('ordinary text of any script is left alone', () => {
  for (const text of ["'Amber Lantern'", '日本 Saltmarsh', 'Zoë', 'e\u0301', '🍇', 'ẞ × ´']) {
    expect(visible(text)).toBe(text);
  }
});

test('tabs and line ends become blanks', () => {
  expect(visible('a\tb\nc\rd')).toBe('a b c d');
});

test('terminal escapes are written out', () => {
  expect(visible('\u001b[31mred')).toBe('\\u{1b}[31mred');
  expect(visible('\u009b2J\u0007\u0000')).toBe('\\u{9b}2J\\u{7}\\u{0}');
});

test('marks that turn the reading direction are written out (Unicode Annex 9)', () => {
  expect(visible('a\u202eb\u2066c')).toBe('a\\u{202e}b\\u{2066}c');
});

test('half a surrogate pair is written out, a whole one is not', () => {
  expect(visible('\ud83cx')).toBe('\\u{d83c}x');
  expect(visible('x\udf47')).toBe('x\\u{df47}');
  expect(visible('\ud83c\udf47')).toBe('\ud83c\udf47');
});

test('no control, format override or lone surrogate comes through, whatever goes in', () => {
  const anything = fc.string({
    unit: fc.integer({ min: 0, max: 0xffff }).map((unit) => String.fromCharCode(unit)),
  });
  fc.assert(
    fc.property(anything, (text) => {
      const shown = visible(text);
      expect(shown).not.toMatch(/[\p{Cc}\p{Zl}\p{Zp}\p{Cs}]|\p{Bidi_Control}/u);
      expect(visible(shown)).toBe(shown);
    }),
  );
});
