import { describe, expect, it } from 'vitest';
import { tukeyKramer } from './tukey-kramer.ts';

const identity = [
  [1, 0, 0],
  [0, 1, 0],
  [0, 0, 1],
];

describe('tukeyKramer', () => {
  it('calls a pair different exactly where p is below alpha', () => {
    for (const pair of tukeyKramer({
      means: [0, 4, 5],
      covariance: identity,
      df: 9,
      alpha: 0.05,
    })) {
      expect(pair.differs).toBe(pair.p < 0.05);
    }
  });

  it('takes the covariance of two means into account', () => {
    const [pair] = tukeyKramer({
      means: [1, 2],
      covariance: [
        [3, 2],
        [2, 3],
      ],
      df: 5,
      alpha: 0.05,
    });
    expect(pair?.se).toBeCloseTo(Math.SQRT2, 14);
  });

  it('copes with means without any error', () => {
    const pairs = tukeyKramer({
      means: [1, 1, 2],
      covariance: [
        [0, 0, 0],
        [0, 0, 0],
        [0, 0, 0],
      ],
      df: 5,
      alpha: 0.05,
    });
    expect(pairs.map(({ p }) => p)).toEqual([1, 0, 0]);
    expect(pairs.map(({ differs }) => differs)).toEqual([false, true, true]);
  });

  it('has nothing to compare below two means', () => {
    expect(tukeyKramer({ means: [1], covariance: [[1]], df: 5, alpha: 0.05 })).toEqual([]);
  });

  it('refuses sizes that do not match', () => {
    const short = { means: [1, 2, 3], covariance: [[1]], df: 5, alpha: 0.05 };
    expect(() => tukeyKramer(short)).toThrow(RangeError);
  });
});
