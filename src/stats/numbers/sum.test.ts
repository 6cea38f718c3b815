import fc from 'fast-check';
import { expect, test } from 'vitest';
import { decimalSum, sum } from './sum.ts';

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

test('weights add up as they do on paper', () => {
  expect(decimalSum([65.9, 58.1, 55.6])).toBe(179.6);
  expect(decimalSum([0.1, 0.2])).toBe(0.3);
  expect(decimalSum([])).toBe(0);
});

test('decimals add up to the double nearest to their exact sum', () => {
  const weights = fc.array(fc.integer({ min: 0, max: 1e7 }), { maxLength: 60 });
  fc.assert(
    fc.property(weights, fc.constantFrom(1, 10, 100, 1000), (parts, size) => {
      const exact = parts.reduce((total, part) => total + part, 0) / size;
      expect(decimalSum(parts.map((part) => part / size))).toBe(exact);
    }),
  );
});

test('other numbers are added as ever', () => {
  for (const values of [[1 / 3, 0.1, 0.2], [1e300, 1], [9e15, 0.5, 0.5], [2 * 28.349523125]]) {
    expect(decimalSum(values)).toBe(sum(values));
  }
  expect(() => decimalSum([1, Number.NaN])).toThrow(RangeError);
});
