import fc from 'fast-check';
import stringWidth from 'string-width';
import { expect, test } from 'vitest';
import { displayWidth, graphemesOf, headOf, tailOf } from './display-width.ts';

const text = fc.string({ unit: 'grapheme' });

test('wide characters take two columns, combining marks none', () => {
  expect(displayWidth('fig')).toBe(3);
  // East Asian Width of these ideographs is W (Unicode Annex 11).
  expect(displayWidth('日本')).toBe(4);
  expect(displayWidth('e\u0301')).toBe(1);
});

test('text of single columns is as wide as the library for widths says', () => {
  let shortcuts = 0;
  for (let code = 0x20; code <= 0x2700; code++) {
    const one = String.fromCharCode(code);
    expect([code, displayWidth(one)]).toEqual([code, stringWidth(one)]);
    if (displayWidth(`${one}–é`) === 3) shortcuts++;
    expect([code, displayWidth(`${one}–é`)]).toEqual([code, stringWidth(`${one}–é`)]);
  }
  expect(shortcuts).toBeGreaterThan(600);
});

test('a letter keeps its marks', () => {
  expect(graphemesOf('ae\u0301日')).toEqual(['a', 'e\u0301', '日']);
});

test('a head never splits a wide character', () => {
  expect(headOf('日本', 3)).toBe('日');
  expect(tailOf('日本', 3)).toBe('本');
  expect(headOf('日本', 1)).toBe('');
});

test('heads and tails are the longest that fit', () => {
  fc.assert(
    fc.property(text, fc.nat(30), (one, width) => {
      const head = headOf(one, width);
      const tail = tailOf(one, width);
      expect(one.startsWith(head) && one.endsWith(tail)).toBe(true);
      expect(displayWidth(head)).toBeLessThanOrEqual(width);
      expect(displayWidth(tail)).toBeLessThanOrEqual(width);
      if (displayWidth(one) <= width) expect([head, tail]).toEqual([one, one]);
      else expect(head.length).toBeLessThan(one.length);
    }),
  );
});
