import { describe, expect, it } from 'vitest';
import { choleskyInPlace } from '../numbers/cholesky-in-place.ts';
import { seededRandom } from '../random/seeded-random.ts';
import { SettledWalk } from './settled-walk.ts';

function run(
  density: (point: Float64Array) => number,
  centre: readonly number[],
  information: readonly number[],
  rounds: number,
  see: (point: Float64Array) => void,
) {
  const factor = Float64Array.from(information);
  choleskyInPlace(factor, centre.length);
  const walk = new SettledWalk(Float64Array.from(centre), factor, seededRandom(11));
  let current = density(walk.point);
  let taken = 0;
  for (let round = 0; round < rounds; round++) {
    if (walk.step(current, density)) {
      current = walk.density();
      taken++;
    }
    see(walk.point);
  }
  return taken / rounds;
}

describe('SettledWalk', () => {
  it('finds the moments of a narrow, tilted normal distribution, taking most of what it proposes', () => {
    // Standard deviations 1 and 0.1, correlation 0.8, mean (3, -2).
    const density = (point: Float64Array) => {
      const [u, v] = [(point[0] ?? 0) - 3, ((point[1] ?? 0) + 2) * 10];
      return -(u * u - 1.6 * u * v + v * v) / (2 * 0.36);
    };
    const information = [1 / 0.36, -8 / 0.36, -8 / 0.36, 100 / 0.36];
    let [sum, sumOther, square, product] = [0, 0, 0, 0];
    const rounds = 40_000;
    const taken = run(density, [3, -2], information, rounds, (point) => {
      const [u, v] = [(point[0] ?? 0) - 3, (point[1] ?? 0) + 2];
      sum += u / rounds;
      sumOther += v / rounds;
      square += (u * u) / rounds;
      product += (u * v) / rounds;
    });
    expect(Math.abs(sum)).toBeLessThan(0.03);
    expect(Math.abs(sumOther)).toBeLessThan(0.003);
    expect(Math.abs(square - 1)).toBeLessThan(0.05);
    expect(Math.abs(product - 0.08)).toBeLessThan(0.005);
    expect(taken).toBeGreaterThan(0.6);
  });

  it('is right for a distribution that is far from normal, and from a centre beside the peak', () => {
    // x = log g, g from the gamma distribution of shape 2 and scale 1: E g = 2, var g = 2, E log g = 1 - 0.577216.
    const density = (point: Float64Array) => 2 * (point[0] ?? 0) - Math.exp(point[0] ?? 0);
    let [mean, square, log] = [0, 0, 0];
    const rounds = 200_000;
    run(density, [1.2], [3], rounds, (point) => {
      const g = Math.exp(point[0] ?? 0);
      mean += g / rounds;
      square += (g * g) / rounds;
      log += (point[0] ?? 0) / rounds;
    });
    expect(Math.abs(mean - 2)).toBeLessThan(0.03);
    expect(Math.abs(square - mean * mean - 2)).toBeLessThan(0.12);
    expect(Math.abs(log - (1 - 0.577216))).toBeLessThan(0.015);
  });
});
