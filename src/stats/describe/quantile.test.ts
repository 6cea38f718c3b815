import fc from 'fast-check';
import { expect, test } from 'vitest';
import { median, medianAbsoluteDeviation, quantile } from './quantile.ts';

const values = fc.array(fc.double({ min: -1e6, max: 1e6, noNaN: true }), { minLength: 1 });

test('no values give no figure', () => {
  expect(quantile([], 0.5)).toBeUndefined();
  expect(median([])).toBeUndefined();
  expect(medianAbsoluteDeviation([])).toBeUndefined();
});

test('0 and 1 are the least and the greatest value', () => {
  fc.assert(
    fc.property(values, (drawn) => {
      expect(quantile(drawn, 0) === Math.min(...drawn)).toBe(true);
      expect(quantile(drawn, 1) === Math.max(...drawn)).toBe(true);
    }),
  );
});

test('the order of the values does not matter, and they are left as they were', () => {
  fc.assert(
    fc.property(values, fc.double({ min: 0, max: 1, noNaN: true }), (drawn, share) => {
      const before = [...drawn];
      const found = quantile(drawn, share);
      expect(quantile(drawn.toReversed(), share) === found).toBe(true);
      expect(drawn).toEqual(before);
    }),
  );
});

test('numbers are put in order as numbers', () => {
  expect(median([100, 9, 20])).toBe(20);
});

test('one wild value does not move the scaled MAD', () => {
  expect(medianAbsoluteDeviation([1, 2, 3, 4, 5])).toBe(1.4826);
  expect(medianAbsoluteDeviation([1, 2, 3, 4, 5000])).toBe(1.4826);
});

test('refuses a share outside 0 to 1 and numbers that are not finite', () => {
  expect(() => quantile([1], 1.01)).toThrow(RangeError);
  expect(() => quantile([1], -0.01)).toThrow(RangeError);
  expect(() => quantile([1], Number.NaN)).toThrow(RangeError);
  expect(() => median([1, Number.NaN, 2])).toThrow(RangeError);
});
