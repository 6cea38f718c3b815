import { expect, it } from 'vitest';
import { seededRandom } from '../random/seeded-random.ts';
import { unshrunk } from './unshrunk.ts';

it('gives back what was seen of items whose draws are drawn towards their level', () => {
  // Values with errors of variance .5 and 1 under N(level, 1): the posterior by hand, level given as 6.
  const random = seededRandom(3);
  const seen = [7.5, 4.5, 6.5, 5, 6.8];
  const errors = [0.5, 0.5, 1, 1, 0.5];
  const draws = seen.map(() => new Float64Array(200_000));
  const strangers = [new Float64Array(200_000), new Float64Array(200_000)] as const;
  for (let d = 0; d < 200_000; d++) {
    // The level given what was seen, flat beforehand; then each item given the level.
    const weights = errors.map((error) => 1 / (1 + error));
    const total = weights.reduce((sum, one) => sum + one, 0);
    const middle = seen.reduce((sum, value, at) => sum + value * (weights[at] ?? 0), 0) / total;
    const level = middle + random.normal() / Math.sqrt(total);
    seen.forEach((value, at) => {
      const error = errors[at] ?? 1;
      const mean = (value + error * level) / (1 + error);
      (draws[at] as Float64Array)[d] = mean + Math.sqrt(error / (1 + error)) * random.normal();
    });
    for (const stranger of strangers) stranger[d] = level + random.normal();
  }
  const { mean, covariance } = unshrunk(draws, strangers);
  const shift = mean.reduce((sum, value, at) => sum + value - (seen[at] ?? 0), 0) / seen.length;
  seen.forEach((value, at) => {
    // The level is free, so values are known but for a shift of all.
    expect((mean[at] ?? 0) - shift).toBeCloseTo(value, 1);
  });
  const between = (a: number, b: number) =>
    (covariance[a * 5 + a] ?? 0) + (covariance[b * 5 + b] ?? 0) - 2 * (covariance[a * 5 + b] ?? 0);
  expect(between(0, 1)).toBeCloseTo(1, 1);
  expect(Math.abs(between(2, 3) - 2)).toBeLessThan(0.15);
});
