import fc from 'fast-check';
import { expect, test } from 'vitest';
import { decimalSum } from './decimal-sum.ts';
import { sum } from './sum.ts';

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
