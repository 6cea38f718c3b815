import fc from 'fast-check';
import { expect, test } from 'vitest';
import { alternationIndex } from './alternation-index.ts';

const yields = fc.array(fc.option(fc.integer({ min: 0, max: 500 }), { nil: undefined }));

test('stays between 0 and 1, reads the same backwards, and does not depend on the unit', () => {
  fc.assert(
    fc.property(yields, (years) => {
      const found = alternationIndex(years);
      const index = found?.index ?? 0;
      expect(index).toBeGreaterThanOrEqual(0);
      expect(index).toBeLessThanOrEqual(1);
      const backwards = alternationIndex(years.toReversed());
      expect(backwards?.index ?? 0).toBeCloseTo(index, 12);
      expect(backwards?.terms).toBe(found?.terms);
      const ounces = alternationIndex(years.map((crop) => crop && crop / 28.349523125));
      expect(ounces?.index ?? 0).toBeCloseTo(index, 12);
    }),
  );
});

test('pairs of empty years and pairs with a gap are dropped and not counted', () => {
  expect(alternationIndex([0, 0, 5])).toEqual({ index: 1, terms: 1 });
  expect(alternationIndex([3, undefined, 1])).toBeUndefined();
  expect(alternationIndex([3, 1, undefined, 1, 3])).toEqual({ index: 0.5, terms: 2 });
});

test('a single year, or none, gives no index', () => {
  expect(alternationIndex([])).toBeUndefined();
  expect(alternationIndex([4])).toBeUndefined();
});

test('refuses yields that cannot be', () => {
  expect(() => alternationIndex([1, -1])).toThrow(RangeError);
  expect(() => alternationIndex([1, Number.NaN])).toThrow(RangeError);
});
