import fc from 'fast-check';
import { expect, test } from 'vitest';
import { mean } from './mean.ts';
import { sampleSd } from './variance.ts';

const values = fc.array(fc.integer({ min: -1000, max: 1000 }), { minLength: 2, maxLength: 40 });

test('too few values give no figure', () => {
  expect(mean([])).toBeUndefined();
  expect(sampleSd([])).toBeUndefined();
  expect(sampleSd([4])).toBeUndefined();
});

test('equal values have no spread', () => {
  fc.assert(
    fc.property(fc.integer(), fc.integer({ min: 2, max: 30 }), (value, count) => {
      expect(sampleSd(Array.from({ length: count }, () => value))).toBe(0);
    }),
  );
});

test('two values: half their distance times the root of two', () => {
  expect(sampleSd([3, 7])).toBeCloseTo(2 * Math.SQRT2, 14);
});

test('a mean that doubles cannot hold costs no digits', () => {
  // Deviations of -1/3, -1/3 and 2/3 around a mean that is rounded to the nearest eighth.
  expect(sampleSd([1e15, 1e15, 1e15 + 1])).toBeCloseTo(Math.sqrt(1 / 3), 15);
});

test('a shift moves the mean and leaves the spread', () => {
  fc.assert(
    fc.property(values, fc.integer({ min: -1e9, max: 1e9 }), (drawn, shift) => {
      const moved = drawn.map((value) => value + shift);
      expect(mean(moved)).toBeCloseTo((mean(drawn) ?? Number.NaN) + shift, 5);
      expect(sampleSd(moved)).toBeCloseTo(sampleSd(drawn) ?? Number.NaN, 5);
    }),
  );
});

test('a scale goes through to the spread', () => {
  fc.assert(
    fc.property(values, (drawn) => {
      const doubled = sampleSd(drawn.map((value) => -2 * value));
      expect(doubled).toBeCloseTo(2 * (sampleSd(drawn) ?? Number.NaN), 9);
    }),
  );
});

test('refuses numbers that are not finite', () => {
  expect(() => mean([Number.NaN])).toThrow(RangeError);
  expect(() => sampleSd([1, Number.NEGATIVE_INFINITY])).toThrow(RangeError);
});
