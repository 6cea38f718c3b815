import { describe, expect, it } from 'vitest';
import { indexDraws } from './index-draws.ts';

const taste = [Float64Array.of(6, 8), Float64Array.of(4, 5), Float64Array.of(1, 2)];
const size = [Float64Array.of(3, 1), Float64Array.of(10, 7), undefined];

describe('indexDraws', () => {
  it('weighs the parts draw by draw', () => {
    const index = indexDraws([
      { weight: 3, items: taste },
      { weight: 1, items: size },
    ]);
    expect([...(index[0] ?? [])]).toEqual([5.25, 6.25]);
    expect([...(index[1] ?? [])]).toEqual([5.5, 5.5]);
  });

  it('imputes nothing: an item without a part has no index', () => {
    const parts = [
      { weight: 1, items: taste },
      { weight: 1, items: size },
    ];
    expect(indexDraws(parts)[2]).toBeUndefined();
  });

  it('refuses parts that do not fit together', () => {
    expect(() => indexDraws([])).toThrow(RangeError);
    const short = [
      { weight: 1, items: taste },
      { weight: 1, items: [Float64Array.of(1)] },
    ];
    expect(() => indexDraws(short)).toThrow(RangeError);
  });
});
