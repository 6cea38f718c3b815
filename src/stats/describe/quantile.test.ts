import fc from 'fast-check';
import { expect, test } from 'vitest';
import { median, medianAbsoluteDeviation, quantile, weightedQuantile } from './quantile.ts';

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

const picks = fc.array(
  fc.record({ day: fc.integer({ min: 1, max: 366 }), fruit: fc.integer({ min: 0, max: 500 }) }),
  { minLength: 1, maxLength: 40 },
);

test('half of an even crop is reached exactly, not one pick later', () => {
  expect(weightedQuantile([200, 210], [3, 3], 0.5)).toBe(200);
  expect(weightedQuantile([200, 210, 220], [1, 1, 2], 0.5)).toBe(210);
});

test('shares that doubles cannot hold are reached exactly', () => {
  // 0.55 of 100 is 55.00000000000001, 0.1 + 0.2 is more than 0.3, and 0.7 + 0.1 is less than 0.8
  expect(weightedQuantile([1, 2], [55, 45], 0.55)).toBe(1);
  expect(weightedQuantile([1, 2], [54, 46], 0.55)).toBe(2);
  expect(weightedQuantile([1, 2, 3], [0.1, 0.2, 0.7], 0.3)).toBe(2);
  expect(weightedQuantile([1, 2, 3], [0.7, 0.1, 0.2], 0.8)).toBe(2);
});

test('agrees with counting the fruit one by one, at every whole percent', () => {
  fc.assert(
    fc.property(picks, fc.integer({ min: 1, max: 100 }), (drawn, percent) => {
      const fruit = drawn
        .flatMap(({ day, fruit: count }) => Array.from({ length: count }, () => day))
        .toSorted((a, b) => a - b);
      // the first fruit by which 100 x count >= percent x all, in whole numbers
      const wanted = fruit[Math.ceil((percent * fruit.length) / 100) - 1];
      const found = weightedQuantile(
        drawn.map(({ day }) => day),
        drawn.map((pick) => pick.fruit),
        percent / 100,
      );
      expect(found).toBe(wanted);
    }),
  );
});

test('the order of the picks does not matter', () => {
  expect(weightedQuantile([243, 227, 234], [1, 5, 3], 0.9)).toBe(243);
});

test('a value without weight is never the answer', () => {
  expect(weightedQuantile([1, 2, 3], [0, 4, 0], 0)).toBe(2);
  expect(weightedQuantile([1, 2, 3], [0, 4, 0], 1)).toBe(2);
});

test('no weight gives no figure', () => {
  expect(weightedQuantile([], [], 0.5)).toBeUndefined();
  expect(weightedQuantile([1], [0], 0.5)).toBeUndefined();
});

test('refuses weights that do not fit', () => {
  expect(() => weightedQuantile([1, 2], [1], 0.5)).toThrow(RangeError);
  expect(() => weightedQuantile([1], [-1], 0.5)).toThrow(RangeError);
  expect(() => weightedQuantile([1], [1], 1.5)).toThrow(RangeError);
});
