import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { rankSummary } from './rank-summary.ts';
import { seededRandom } from './seeded-random.ts';

const options = { top: 2, confidence: 0.95 };

describe('rankSummary', () => {
  it('ranks the greatest first and counts what happened', () => {
    // Draws: a b c, a c b, a b c, b a c.
    const summary = rankSummary(
      [Float64Array.of(9, 9, 9, 5), Float64Array.of(5, 1, 5, 9), Float64Array.of(1, 5, 1, 1)],
      options,
    );
    expect(summary.map(({ firstShare }) => firstShare)).toEqual([0.75, 0.25, 0]);
    expect(summary.map(({ topShare }) => topShare)).toEqual([1, 0.75, 0.25]);
    expect(summary.map(({ median }) => median)).toEqual([1, 2, 3]);
    expect(summary.map(({ low, high }) => [low, high])).toEqual([
      [1, 2],
      [1, 3],
      [2, 3],
    ]);
  });

  it('shares places among ties', () => {
    const summary = rankSummary(
      [Float64Array.of(7), Float64Array.of(7), Float64Array.of(7), Float64Array.of(1)],
      options,
    );
    expect(summary.map(({ firstShare }) => firstShare)).toEqual([1 / 3, 1 / 3, 1 / 3, 0]);
    expect(summary.map(({ topShare }) => topShare)).toEqual([2 / 3, 2 / 3, 2 / 3, 0]);
    expect(summary.map(({ median }) => median)).toEqual([2, 2, 2, 4]);
    // A half rank is rounded outward.
    const [pair] = rankSummary([Float64Array.of(7), Float64Array.of(7)], options);
    expect(pair).toEqual({ low: 1, high: 2, median: 1.5, topShare: 1, firstShare: 0.5 });
  });

  it('agrees with ranking each draw the slow way, for any draws', () => {
    const value = fc.integer({ min: 0, max: 6 });
    const shape = fc.tuple(fc.integer({ min: 1, max: 6 }), fc.integer({ min: 1, max: 30 }));
    const cases = shape.chain(([items, drawn]) =>
      fc.array(fc.array(value, { minLength: drawn, maxLength: drawn }), {
        minLength: items,
        maxLength: items,
      }),
    );
    fc.assert(
      fc.property(cases, fc.integer({ min: 1, max: 6 }), (values, top) => {
        const drawn = values[0]?.length ?? 0;
        const summary = rankSummary(
          values.map((own) => Float64Array.from(own)),
          { top, confidence: 0.8 },
        );
        const sum = (part: (one: (typeof summary)[number]) => number) =>
          summary.reduce((all, one) => all + part(one), 0);
        expect(sum(({ firstShare }) => firstShare)).toBeCloseTo(1, 9);
        expect(sum(({ topShare }) => topShare)).toBeCloseTo(Math.min(top, values.length), 9);
        values.forEach((own, item) => {
          const ranks = own.map((mine, draw) => {
            const others = values.map((list) => list[draw] ?? 0);
            const better = others.filter((other) => other > mine).length;
            const tied = others.filter((other) => other === mine).length;
            return better + (tied + 1) / 2;
          });
          const { low, high, median } = summary[item] ?? { low: 0, high: 0, median: 0 };
          const share = (test: (rank: number) => boolean) => ranks.filter(test).length / drawn;
          const tail = 0.1 + 1e-9;
          expect(share((rank) => rank < low)).toBeLessThanOrEqual(tail);
          expect(share((rank) => rank > high)).toBeLessThanOrEqual(tail);
          // No whole rank narrower would do.
          expect(share((rank) => rank < low + 1)).toBeGreaterThan(tail);
          expect(share((rank) => rank > high - 1)).toBeGreaterThan(tail);
          const sorted = [...ranks].sort((a, b) => a - b);
          const middle = [
            sorted[Math.floor((drawn - 1) / 2)] ?? 0,
            sorted[Math.floor(drawn / 2)] ?? 0,
          ];
          expect(median).toBeCloseTo(((middle[0] ?? 0) + (middle[1] ?? 0)) / 2, 12);
        });
      }),
    );
  });

  it('gives the chance that one normal exceeds another', () => {
    // Difference of means 1, standard deviation of the difference sqrt 2: Phi(1 / sqrt 2) =
    // 0.7602499.
    const random = seededRandom(3);
    const drawn = 20_000;
    const draws = [1, 0].map((mean) =>
      Float64Array.from({ length: drawn }, () => mean + random.normal()),
    );
    const [better] = rankSummary(draws, options);
    const error = Math.sqrt((0.76025 * 0.23975) / drawn);
    expect(Math.abs((better?.firstShare ?? 0) - 0.7602499)).toBeLessThan(4 * error);
  });

  it('refuses uneven, missing and impossible draws', () => {
    expect(() => rankSummary([Float64Array.of(1), Float64Array.of(1, 2)], options)).toThrow(
      RangeError,
    );
    expect(() => rankSummary([new Float64Array(0)], options)).toThrow(RangeError);
    expect(() => rankSummary([Float64Array.of(Number.NaN)], options)).toThrow(RangeError);
    expect(() => rankSummary([], { top: 0, confidence: 0.95 })).toThrow(RangeError);
    expect(() => rankSummary([], { top: 1, confidence: 1 })).toThrow(RangeError);
    expect(rankSummary([], options)).toEqual([]);
  });
});
