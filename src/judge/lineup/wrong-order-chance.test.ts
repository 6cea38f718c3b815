import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../stats/random/seeded-random.ts';
import { expectedWrongOrderChance, wrongOrderChance } from './wrong-order-chance.ts';

const variance = fc.double({ min: 0.01, max: 4, noNaN: true });
const gap = fc.double({ min: -5, max: 5, noNaN: true });

describe('wrongOrderChance', () => {
  it('is one half without a gap, and the normal tail with one', () => {
    expect(wrongOrderChance(0, 2)).toBe(0.5);
    expect(wrongOrderChance(0, 0)).toBe(0.5);
    expect(wrongOrderChance(1, 0)).toBe(0);
    // Table of the standard normal: P(Z < -1.96) = 0.0250 (Abramowitz & Stegun 1964, table 26.1).
    expect(wrongOrderChance(1.96, 1)).toBeCloseTo(0.025, 4);
    expect(wrongOrderChance(-3.92, 4)).toBeCloseTo(0.025, 4);
  });
});

/** What is left of a variance once the figure was observed with some noise. */
const left = (before: number, noise: number) => 1 / (1 / before + 1 / noise);

describe('expectedWrongOrderChance', () => {
  it('without a gap is arccos of the correlation over pi (Sheppard 1899, orthant of two normals)', () => {
    fc.assert(
      fc.property(variance, variance, (before, noise) => {
        const correlation = Math.sqrt(before / (before + noise));
        const exact = Math.acos(correlation) / Math.PI;
        expect(expectedWrongOrderChance(0, before, left(before, noise))).toBeCloseTo(exact, 10);
      }),
    );
  });

  it('is the mean of the chance over what the estimate may become, summed up slice by slice', () => {
    fc.assert(
      fc.property(gap, variance, variance, (own, before, noise) => {
        const after = left(before, noise);
        const reach = Math.sqrt(before - after);
        const steps = 4000;
        const step = (16 * reach) / steps;
        let total = 0;
        for (let at = 0; at < steps; at++) {
          const x = own - 8 * reach + (at + 0.5) * step;
          const density = Math.exp(-0.5 * ((x - own) / reach) ** 2) / Math.sqrt(2 * Math.PI);
          total += (density / reach) * wrongOrderChance(x, after);
        }
        expect(expectedWrongOrderChance(own, before, after)).toBeCloseTo(total * step, 4);
      }),
      { numRuns: 50 },
    );
  });

  it('never rises above what it was, and falls the more, the better the tasting', () => {
    fc.assert(
      fc.property(gap, variance, variance, (own, before, noise) => {
        const now = wrongOrderChance(own, before);
        const after = expectedWrongOrderChance(own, before, left(before, noise));
        const better = expectedWrongOrderChance(own, before, left(before, noise / 4));
        expect(after).toBeGreaterThanOrEqual(0);
        expect(after).toBeLessThanOrEqual(now + 1e-9);
        expect(better).toBeLessThanOrEqual(after + 1e-9);
      }),
    );
  });

  it('changes nothing if nothing is learnt, and leaves nothing if all is', () => {
    expect(expectedWrongOrderChance(0.7, 1, 1)).toBe(wrongOrderChance(0.7, 1));
    expect(expectedWrongOrderChance(0.7, 1, 1 - 1e-12)).toBeCloseTo(wrongOrderChance(0.7, 1), 6);
    expect(expectedWrongOrderChance(0.7, 1, 0)).toBe(0);
    expect(expectedWrongOrderChance(0.7, 0, 0)).toBe(0);
  });

  it.each([
    [0.4, 1, 0.5],
    [1.5, 2, 1],
    [0.2, 0.3, 3],
  ])('agrees with trials by chance: gap %d, variance %d, noise %d', (own, before, noise) => {
    const random = seededRandom(7);
    const trials = 200_000;
    let wrong = 0;
    for (let trial = 0; trial < trials; trial++) {
      const truth = own + Math.sqrt(before) * random.normal();
      const seen = truth + Math.sqrt(noise) * random.normal();
      const estimate = (own / before + seen / noise) / (1 / before + 1 / noise);
      if (estimate * truth < 0) wrong++;
    }
    // Four standard errors of the share.
    const margin = 4 * Math.sqrt(0.25 / trials);
    const found = expectedWrongOrderChance(own, before, left(before, noise));
    expect(Math.abs(found - wrong / trials)).toBeLessThan(margin);
  });
});
