import fc from 'fast-check';
import { expect, test } from 'vitest';
import { competitionRanks } from './competition-ranks.ts';

test('equal values share the lower rank, and the next rank is left out', () => {
  expect(competitionRanks([7, 9, 7, 3])).toEqual([2, 1, 2, 4]);
  expect(competitionRanks([5, 5, 5])).toEqual([1, 1, 1]);
  expect(competitionRanks([])).toEqual([]);
});

test('a rank is one more than the count of greater values', () => {
  fc.assert(
    fc.property(fc.array(fc.integer({ min: -5, max: 5 })), (values) => {
      const counted = values.map((value) => 1 + values.filter((other) => other > value).length);
      expect(competitionRanks(values)).toEqual(counted);
    }),
  );
});

test('zero and negative zero are equal', () => {
  expect(competitionRanks([0, -0])).toEqual([1, 1]);
});

test('refuses numbers that are not finite', () => {
  expect(() => competitionRanks([1, Number.NaN])).toThrow(RangeError);
});
