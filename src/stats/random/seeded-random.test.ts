import { describe, expect, it } from 'vitest';
import { seededRandom } from './seeded-random.ts';

const DRAWS = 100_000;

function draws(count: number, draw: () => number): number[] {
  return Array.from({ length: count }, draw);
}

/** Mean of f over the values, in standard errors from its expectation. */
function deviation(values: readonly number[], mean: number, variance: number): number {
  const sum = values.reduce((total, value) => total + value, 0);
  return Math.abs(sum / values.length - mean) / Math.sqrt(variance / values.length);
}

// The seeds are fixed, so a passing test stays passing; 4 standard errors would fail an honest
// generator for about 1 seed in 16,000 a check, and a wrong moment of any size that matters fails
// by far more.
const LIMIT = 4;

describe('seededRandom', () => {
  it('gives the same stream for the same seed, another for another', () => {
    const stream = (seed: number) => {
      const random = seededRandom(seed);
      return draws(50, () => random.uniform());
    };
    expect(stream(7)).toEqual(stream(7));
    expect(stream(7)).not.toEqual(stream(8));
    expect(stream(7)).not.toEqual(stream(7 + 2 ** 32));
    expect(new Set(stream(0)).size).toBe(50);
  });

  it('draws uniforms in [0, 1) with the moments of the uniform distribution', () => {
    const random = seededRandom(1);
    const values = draws(DRAWS, () => random.uniform());
    expect(Math.min(...values)).toBeGreaterThanOrEqual(0);
    expect(Math.max(...values)).toBeLessThan(1);
    expect(deviation(values, 1 / 2, 1 / 12)).toBeLessThan(LIMIT);
    const squares = values.map((u) => u * u);
    expect(deviation(squares, 1 / 3, 1 / 5 - 1 / 9)).toBeLessThan(LIMIT);
    const lagged = values.slice(1).map((u, i) => (u - 0.5) * ((values[i] ?? 0) - 0.5));
    expect(deviation(lagged, 0, 1 / 144)).toBeLessThan(LIMIT);
  });

  it('draws normals with moments 0, 1, 0, 3', () => {
    const random = seededRandom(2);
    const values = draws(DRAWS, () => random.normal());
    // Variance of the kth power: the moment 2k less the square of moment k.
    const moments: [number, number, number][] = [
      [1, 0, 1],
      [2, 1, 2],
      [3, 0, 15],
      [4, 3, 96],
    ];
    for (const [power, mean, variance] of moments) {
      const powers = values.map((z) => z ** power);
      expect(deviation(powers, mean, variance), `power ${power}`).toBeLessThan(LIMIT);
    }
    const inside = values.map((z) => (Math.abs(z) < 1.959963984540054 ? 1 : 0));
    expect(deviation(inside, 0.95, 0.95 * 0.05)).toBeLessThan(LIMIT);
  });

  it.each([0.3, 1, 4.5])('draws gammas of shape %f with mean and variance the shape', (shape) => {
    const random = seededRandom(9);
    const values = draws(DRAWS, () => random.gamma(shape));
    expect(Math.min(...values)).toBeGreaterThan(0);
    expect(deviation(values, shape, shape)).toBeLessThan(LIMIT);
    // Fourth central moment of a gamma: 3 shape^2 + 6 shape.
    const squares = values.map((g) => (g - shape) ** 2);
    expect(deviation(squares, shape, 2 * shape ** 2 + 6 * shape)).toBeLessThan(LIMIT);
  });

  it('draws integers evenly, whatever n', () => {
    const random = seededRandom(3);
    const counts = new Array<number>(7).fill(0);
    for (let i = 0; i < 70_000; i++) {
      const value = random.integer(7);
      counts[value] = (counts[value] ?? 0) + 1;
    }
    expect(counts).toHaveLength(7);
    const chiSquare = counts.reduce((sum, count) => sum + (count - 10_000) ** 2 / 10_000, 0);
    // 99.99 % point of chi-square on 6 degrees of freedom, 27.86 (any table).
    expect(chiSquare).toBeLessThan(27.86);
    expect(random.integer(1)).toBe(0);
    expect(random.integer(2 ** 32)).toBeLessThan(2 ** 32);
  });

  it('keeps large integers free of the bias of a plain remainder', () => {
    const random = seededRandom(4);
    const n = 3 * 2 ** 30;
    // A remainder of a 32-bit word would put half the draws in the lowest third.
    const low = draws(30_000, () => (random.integer(n) < 2 ** 30 ? 1 : 0));
    expect(deviation(low, 1 / 3, 2 / 9)).toBeLessThan(LIMIT);
  });

  it('shuffles into every order equally often and leaves its argument alone', () => {
    const random = seededRandom(5);
    const values = ['a', 'b', 'c'];
    const counts = new Map<string, number>();
    for (let i = 0; i < 60_000; i++) {
      const order = random.shuffle(values).join('');
      counts.set(order, (counts.get(order) ?? 0) + 1);
    }
    expect(values).toEqual(['a', 'b', 'c']);
    expect(counts.size).toBe(6);
    const chiSquare = [...counts.values()].reduce((sum, n) => sum + (n - 10_000) ** 2 / 10_000, 0);
    // 99.99 % point of chi-square on 5 degrees of freedom, 25.74 (any table).
    expect(chiSquare).toBeLessThan(25.74);
    expect(random.shuffle([])).toEqual([]);
  });

  it('refuses seeds, ranges and shapes that cannot be', () => {
    for (const seed of [-1, 1.5, Number.NaN, 2 ** 53]) {
      expect(() => seededRandom(seed)).toThrow(RangeError);
    }
    const random = seededRandom(6);
    for (const n of [0, -1, 2.5, 2 ** 32 + 1]) expect(() => random.integer(n)).toThrow(RangeError);
    for (const shape of [0, -1, Number.POSITIVE_INFINITY]) {
      expect(() => random.gamma(shape)).toThrow(RangeError);
    }
  });
});
