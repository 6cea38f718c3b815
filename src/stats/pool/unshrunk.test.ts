import { expect, it } from 'vitest';
import { seededRandom } from '../random/seeded-random.ts';
import { unshrunk } from './unshrunk.ts';

const PAIRS = 100_000;

/**
 * Draws of items seen with independent errors under N(level, spread²), by hand: the level given what was seen, flat
 * beforehand; then each item given the level, with its mirror image about its conditional mean.
 *
 * @param spreadOf the variance between items that a pair reckons with
 */
function drawn(seen: readonly number[], errors: readonly number[], spreadOf: () => number) {
  const random = seededRandom(3);
  const draws = seen.map(() => new Float64Array(2 * PAIRS));
  const strangers = [new Float64Array(2 * PAIRS), new Float64Array(2 * PAIRS)] as const;
  for (let d = 0; d < PAIRS; d++) {
    const spread = spreadOf();
    const weights = errors.map((error) => 1 / (spread + error));
    const total = weights.reduce((sum, one) => sum + one, 0);
    const middle = seen.reduce((sum, value, at) => sum + value * (weights[at] ?? 0), 0) / total;
    const level = middle + random.normal() / Math.sqrt(total);
    const put = (into: Float64Array, mean: number, off: number) => {
      into[d] = mean + off;
      into[PAIRS + d] = mean - off;
    };
    seen.forEach((value, at) => {
      const share = spread / (spread + (errors[at] ?? 1));
      const off = Math.sqrt(share * (errors[at] ?? 1)) * random.normal();
      put(draws[at] as Float64Array, level + share * (value - level), off);
    });
    for (const stranger of strangers) put(stranger, level, Math.sqrt(spread) * random.normal());
  }
  return { draws, strangers };
}

it('gives back what was seen of items whose draws are drawn towards their level', () => {
  const seen = [7.5, 4.5, 6.5, 5, 6.8];
  const { draws, strangers } = drawn(seen, [0.5, 0.5, 1, 1, 0.5], () => 1);
  const { mean, covariance } = unshrunk(draws, strangers);
  const shift = mean.reduce((sum, value, at) => sum + value - (seen[at] ?? 0), 0) / seen.length;
  seen.forEach((value, at) => {
    // The level is free, so values are known but for a shift of all.
    expect((mean[at] ?? 0) - shift).toBeCloseTo(value, 1);
  });
  const between = betweenOf(covariance, 5);
  expect(between(0, 1)).toBeCloseTo(1, 1);
  expect(Math.abs(between(2, 3) - 2)).toBeLessThan(0.15);
});

it('does not take a spread that is hardly known for little that was seen', () => {
  // The spread found from the values themselves: its variance is in doubt by a factor of some four either way.
  const random = seededRandom(4);
  const seen = [8, 3.6, 6.6, 5.4, 6.2, 5.8];
  const { draws, strangers } = drawn(
    seen,
    seen.map(() => 1),
    () => 2 * Math.exp(0.8 * random.normal()),
  );
  const { mean, covariance } = unshrunk(draws, strangers);
  const middle = 35.6 / 6;
  const own = mean.reduce((sum, value) => sum + value, 0) / seen.length;
  const slope =
    mean.reduce((sum, value, at) => sum + (value - own) * ((seen[at] ?? 0) - middle), 0) /
    seen.reduce((sum, value) => sum + (value - middle) ** 2, 0);
  expect(Math.abs(slope - 1)).toBeLessThan(0.05);
  // The two that stand furthest apart were seen as well as the others.
  const between = betweenOf(covariance, 6);
  expect(between(0, 1) / between(4, 5)).toBeLessThan(1.1);
  expect(Math.abs(between(0, 1) - 2)).toBeLessThan(0.3);
});

it('bears strangers that do not differ', () => {
  // As where every figure lies beyond the end of its band.
  const draws = [1, 2, 3].map((at) =>
    Float64Array.from({ length: 40 }, (_, d) => Math.sin(at * d)),
  );
  const { mean, covariance } = unshrunk(draws, [new Float64Array(40), new Float64Array(40)]);
  for (const value of [...mean, ...covariance]) expect(Number.isFinite(value)).toBe(true);
});

function betweenOf(covariance: Float64Array, size: number) {
  return (a: number, b: number) =>
    (covariance[a * size + a] ?? 0) +
    (covariance[b * size + b] ?? 0) -
    2 * (covariance[a * size + b] ?? 0);
}
