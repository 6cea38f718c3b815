import { describe, expect, it } from 'vitest';
import { seededRandom } from '../random/seeded-random.ts';
import { adaptiveWalk } from './adaptive-walk.ts';
import { logSpreadPrior, SHARE_PRIOR } from './spreads.ts';

function run(
  density: (point: Float64Array) => number,
  start: number[],
  rounds: number,
  see: (point: Float64Array) => void,
) {
  const walk = adaptiveWalk(start, seededRandom(11));
  let current = density(walk.point);
  let taken = 0;
  for (let round = 0; round < 2000 + rounds; round++) {
    if (round === 2000) walk.freeze();
    if (walk.step(current, density)) {
      current = walk.density();
      taken++;
    }
    if (round >= 2000) see(walk.point);
  }
  return taken / (2000 + rounds);
}

describe('adaptiveWalk', () => {
  it('finds the moments of a narrow, tilted normal distribution', () => {
    // Standard deviations 1 and 0.1, correlation 0.8, mean (3, -2).
    const density = (point: Float64Array) => {
      const [u, v] = [(point[0] ?? 0) - 3, ((point[1] ?? 0) + 2) * 10];
      return -(u * u - 1.6 * u * v + v * v) / (2 * 0.36);
    };
    let [sum, sumOther, square, product] = [0, 0, 0, 0];
    const rounds = 40_000;
    const taken = run(density, [0, 0], rounds, (point) => {
      const [u, v] = [(point[0] ?? 0) - 3, (point[1] ?? 0) + 2];
      sum += u / rounds;
      sumOther += v / rounds;
      square += (u * u) / rounds;
      product += (u * v) / rounds;
    });
    expect(Math.abs(sum)).toBeLessThan(0.06);
    expect(Math.abs(sumOther)).toBeLessThan(0.006);
    expect(square).toBeCloseTo(1, 0);
    expect(Math.abs(product - 0.08)).toBeLessThan(0.012);
    expect(taken).toBeGreaterThan(0.15);
    expect(taken).toBeLessThan(0.4);
  });

  it('draws the shares that the prior of the spreads promises', () => {
    const density = (point: Float64Array) => {
      const [item = 0, season = 0, tree = 0, plate = 0] = point.map(Math.exp);
      return logSpreadPrior({ item, season, tree, plate, residual: 0 }, SHARE_PRIOR, 1, false);
    };
    const shares = [0, 0, 0, 0];
    let below = 0;
    const rounds = 60_000;
    run(density, [0, 0, 0, 0], rounds, (point) => {
      const squares = [...point].map((value) => Math.exp(2 * value));
      const total = squares.reduce((sum, value) => sum + value, 0);
      squares.forEach((value, k) => {
        shares[k] = (shares[k] ?? 0) + value / total / rounds;
      });
      if (Math.sqrt(total) < 0.7648923) below += 1 / rounds;
    });
    // Means of a Dirichlet distribution: parameter over their sum.
    const weights = [SHARE_PRIOR.item, SHARE_PRIOR.season, SHARE_PRIOR.tree, SHARE_PRIOR.plate];
    const sum = weights.reduce((a, b) => a + b, 0);
    weights.forEach((weight, k) => {
      expect(Math.abs((shares[k] ?? 0) - weight / sum)).toBeLessThan(0.015);
    });
    // The half-t median with 3 degrees of freedom is the third quartile of t, 0.7649 (any table of t).
    expect(Math.abs(below - 0.5)).toBeLessThan(0.03);
  });
});
