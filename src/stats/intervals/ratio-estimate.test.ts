import fc from 'fast-check';
import { expect, it, test } from 'vitest';
import { factorInterval, ratioEstimate } from './ratio-estimate.ts';
import { tInterval } from './t-interval.ts';

const trees = fc.array(
  fc.record({ fruit: fc.integer({ min: 0, max: 300 }), branches: fc.integer({ min: 1, max: 60 }) }),
  { minLength: 2, maxLength: 12 },
);

test('one unit has a ratio and no standard error', () => {
  expect(ratioEstimate([21], [8])).toEqual({ ratio: 2.625, se: undefined, units: 1 });
});

test('no units, or nothing to divide by, gives no ratio', () => {
  expect(ratioEstimate([], [])).toBeUndefined();
  expect(ratioEstimate([3, 4], [0, 0])).toBeUndefined();
});

test('units in proportion leave no error', () => {
  expect(ratioEstimate([6, 12, 18], [2, 4, 6])).toEqual({ ratio: 3, se: 0, units: 3 });
});

test('with equal x it is the mean and its standard error', () => {
  // 3, 5, 10: mean 6, variance 13, standard error sqrt(13 / 3)
  const found = ratioEstimate([3, 5, 10], [1, 1, 1]);
  expect(found?.ratio).toBe(6);
  expect(found?.se).toBeCloseTo(Math.sqrt(13 / 3), 14);
});

test('order does not matter, and y carries its unit through', () => {
  fc.assert(
    fc.property(trees, (drawn) => {
      const fruit = drawn.map((tree) => tree.fruit);
      const branches = drawn.map((tree) => tree.branches);
      const found = ratioEstimate(fruit, branches);
      const turned = ratioEstimate(fruit.toReversed(), branches.toReversed());
      expect(turned?.ratio).toBe(found?.ratio);
      expect(turned?.se).toBeCloseTo(found?.se ?? Number.NaN, 10);
      const doubled = ratioEstimate(
        fruit.map((count) => 2 * count),
        branches,
      );
      expect(doubled?.ratio).toBe(2 * (found?.ratio ?? Number.NaN));
      expect(doubled?.se).toBeCloseTo(2 * (found?.se ?? Number.NaN), 10);
    }),
  );
});

test('refuses lists that do not fit and numbers that are not finite', () => {
  expect(() => ratioEstimate([1], [1, 2])).toThrow(RangeError);
  expect(() => ratioEstimate([Number.NaN], [1])).toThrow(RangeError);
  expect(() => tInterval(1, -1, 3, 0.95)).toThrow(RangeError);
  expect(() => tInterval(1, 1, 0, 0.95)).toThrow(RangeError);
  expect(() => tInterval(1, 1, 3, 1)).toThrow(RangeError);
});

it('is the figure times and by exp(t sd / sqrt n)', () => {
  // t at 97.5 % on 10 degrees of freedom is 2.228139 (tables of Student's t).
  const { low, high } = factorInterval(40, { sd: 0.3, units: 4, df: 10 }, 0.95);
  expect(high).toBeCloseTo(40 * Math.exp(2.228139 * 0.15), 4);
  expect(low * high).toBeCloseTo(1600, 8);
});

it('stays above nothing, however few the degrees of freedom', () => {
  const { low } = factorInterval(2, { sd: 1.5, units: 1, df: 1 }, 0.95);
  expect(low).toBeGreaterThan(0);
});
