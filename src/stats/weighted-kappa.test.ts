import { describe, expect, it } from 'vitest';
import { weightedKappa } from './weighted-kappa.ts';

const table = [
  [5, 2, 0],
  [1, 6, 3],
  [0, 1, 7],
];

describe('weightedKappa', () => {
  it('is 1 for full agreement, 0 for independent judges', () => {
    const full = weightedKappa(
      [
        [3, 0],
        [0, 4],
      ],
      'linear',
    );
    expect(full?.kappa).toBe(1);
    expect(full?.se).toBe(0);
    const independent = weightedKappa(
      [
        [4, 8],
        [2, 4],
      ],
      'none',
    );
    expect(independent?.kappa).toBeCloseTo(0, 14);
  });

  it('gives more credit to near misses the more they are weighted', () => {
    const [none, linear, quadratic] = (['none', 'linear', 'quadratic'] as const).map(
      (weights) => weightedKappa(table, weights)?.kappa ?? Number.NaN,
    );
    expect(linear).toBeGreaterThan(none ?? Number.NaN);
    expect(quadratic).toBeGreaterThan(linear ?? Number.NaN);
  });

  it('is absent for an empty table, or one class only', () => {
    expect(weightedKappa([], 'none')).toBeUndefined();
    expect(
      weightedKappa(
        [
          [0, 0],
          [0, 0],
        ],
        'none',
      ),
    ).toBeUndefined();
    expect(weightedKappa([[9]], 'none')).toBeUndefined();
  });

  it('refuses a table that is not square, negative counts and weights that do not fit', () => {
    expect(() => weightedKappa([[1, 2]], 'none')).toThrow(RangeError);
    expect(() => weightedKappa([[-1]], 'none')).toThrow(RangeError);
    expect(() => weightedKappa(table, [[1]])).toThrow(RangeError);
  });
});
