import { expect, it } from 'vitest';
import { normalCdf } from '../distributions/normal-cdf.ts';
import { seededRandom } from './seeded-random.ts';
import { truncatedNormal } from './truncated-normal.ts';

const density = (x: number) => Math.exp((-x * x) / 2) / Math.sqrt(2 * Math.PI);

// Mean (f(a) - f(b)) / (F(b) - F(a)): Johnson, Kotz and Balakrishnan 1994, Continuous Univariate Distributions 1, 10.1.
it.each([
  [-0.5, 0.3],
  [-3, 2],
  [0.4, Number.POSITIVE_INFINITY],
  [2, 2.4],
  [2, 5],
  [-4, -1.5],
  [Number.NEGATIVE_INFINITY, 0.1],
])('has the mean of a normal between %d and %d, and stays between', (low, high) => {
  const random = seededRandom(5);
  const draws = Array.from({ length: 40_000 }, () => truncatedNormal(low, high, random));
  expect(Math.min(...draws.slice(0, 9000))).toBeGreaterThanOrEqual(low);
  expect(Math.max(...draws.slice(0, 9000))).toBeLessThanOrEqual(high);
  const mean = draws.reduce((sum, one) => sum + one) / draws.length;
  const below = (x: number) => normalCdf(Math.max(-40, Math.min(40, x)));
  const expected = (density(low) - density(high)) / (below(high) - below(low));
  expect(Math.abs(mean - expected)).toBeLessThan(0.02);
});
