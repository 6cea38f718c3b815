import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../stats/random/seeded-random.ts';
import { settleChance } from './settle-chance.ts';

/** A normal figure with its 90 % interval. */
function standing(mean: number, variance: number) {
  const half = 1.645 * Math.sqrt(variance);
  return { mean, variance, low: mean - half, high: mean + half };
}

describe('settleChance', () => {
  it.each([
    [6.3, 0.8, 6, 0.5],
    [5.2, 0.5, 6, 0.3],
    [6, 1.2, 6, 2],
  ])(
    'agrees with observing it again by chance: mean %d, variance %d, mark %d, noise %d',
    (mean, variance, mark, noise) => {
      const random = seededRandom(11);
      const trials = 200_000;
      const after = 1 / (1 / variance + 1 / noise);
      let [above, below] = [0, 0];
      for (let trial = 0; trial < trials; trial++) {
        const truth = mean + Math.sqrt(variance) * random.normal();
        const seen = truth + Math.sqrt(noise) * random.normal();
        const then = standing(after * (mean / variance + seen / noise), after);
        if (then.low >= mark) above++;
        if (then.high <= mark) below++;
      }
      const found = settleChance(standing(mean, variance), mark, after / variance);
      // Four standard errors of a share.
      const margin = 4 * Math.sqrt(0.25 / trials);
      expect(Math.abs(found.above - above / trials)).toBeLessThan(margin);
      expect(Math.abs(found.below - below / trials)).toBeLessThan(margin);
    },
  );

  it('is near one half where the mark is at the end of the interval and all will be known', () => {
    // All known: the chance of the figure itself to lie above; P(Z < 1.645) = 0.95.
    const { above } = settleChance(standing(1.645, 1), 0, 0);
    expect(above).toBeCloseTo(0.95, 4);
  });

  it('says what holds already where nothing is added', () => {
    expect(settleChance(standing(8, 0.1), 6, 1)).toEqual({ above: 1, below: 0 });
    expect(settleChance(standing(6.1, 1), 6, 1)).toEqual({ above: 0, below: 0 });
  });

  it('looks at the side of the interval that faces the mark', () => {
    const skewed = { mean: 6, variance: 1, low: 5.5, high: 9 };
    const { above, below } = settleChance(skewed, 6, 0.5);
    expect(above).toBeGreaterThan(below);
  });
});
