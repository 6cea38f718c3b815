import fc from 'fast-check';
import { expect, test } from 'vitest';
import { sum } from './sum.ts';

test('small terms survive a great one that cancels', () => {
  expect(sum([1, 1e100, 1, -1e100])).toBe(2);
  expect(sum(Array.from({ length: 10 }, () => 0.1))).toBe(1);
});

test('nothing sums to 0', () => {
  expect(sum([])).toBe(0);
});

test('hundredths add up as whole hundredths do', () => {
  fc.assert(
    fc.property(fc.array(fc.integer({ min: -1e6, max: 1e6 })), (hundredths) => {
      const exact = hundredths.reduce((total, part) => total + part, 0) / 100;
      const size = hundredths.reduce((total, part) => total + Math.abs(part), 0) / 100;
      const found = sum(hundredths.map((part) => part / 100));
      // Each hundredth is itself rounded on entry: half a unit in its last place.
      expect(Math.abs(found - exact)).toBeLessThanOrEqual(size * 2 ** -52);
    }),
  );
});

test('refuses numbers that are not finite, and an overflow', () => {
  expect(() => sum([1, Number.NaN])).toThrow(RangeError);
  expect(() => sum([Number.POSITIVE_INFINITY])).toThrow(RangeError);
  expect(() => sum([1e308, 1e308])).toThrow(RangeError);
});
