import { describe, expect, it } from 'vitest';
import { intraclassCorrelation } from './intraclass-correlation.ts';

describe('intraclassCorrelation', () => {
  it('a harsh judge lowers agreement unless harshness is left out', () => {
    const found = intraclassCorrelation(
      [
        [8, 5],
        [6, 3],
        [9, 6],
        [4, 1],
      ],
      0.95,
    );
    expect(found?.single.twoWayFixed).toEqual({ estimate: 1, low: undefined, high: undefined });
    expect(found?.single.twoWayRandom.estimate).toBeLessThan(1);
    expect(found?.single.oneWay.estimate).toBeLessThan(1);
  });

  it('intervals hold the estimate and widen with confidence', () => {
    const marks = [
      [8, 7, 9],
      [6, 7, 5],
      [3, 2, 4],
      [5, 6, 6],
    ];
    const [narrow, wide] = [0.8, 0.99].map((level) => intraclassCorrelation(marks, level));
    for (const model of ['oneWay', 'twoWayRandom', 'twoWayFixed'] as const) {
      const [inner, outer] = [narrow?.single[model], wide?.single[model]];
      expect(inner?.low).toBeLessThan(inner?.estimate ?? Number.NaN);
      expect(inner?.high).toBeGreaterThan(inner?.estimate ?? Number.NaN);
      expect(outer?.low).toBeLessThan(inner?.low ?? Number.NaN);
      expect(outer?.high).toBeGreaterThan(inner?.high ?? Number.NaN);
    }
  });

  it('is absent with one judge, one target or no variation', () => {
    expect(intraclassCorrelation([[1], [2]], 0.95)).toBeUndefined();
    expect(intraclassCorrelation([[1, 2]], 0.95)).toBeUndefined();
    expect(
      intraclassCorrelation(
        [
          [4, 4],
          [4, 4],
        ],
        0.95,
      ),
    ).toBeUndefined();
  });

  it('refuses gaps', () => {
    expect(() => intraclassCorrelation([[1, 2], [1]], 0.95)).toThrow(RangeError);
  });
});
