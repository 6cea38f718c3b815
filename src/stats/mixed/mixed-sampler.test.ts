import { describe, expect, it } from 'vitest';
import { seededRandom } from '../random/seeded-random.ts';
import { type MixedObservations, mixedLayout } from './mixed-layout.ts';
import { MixedSampler } from './mixed-sampler.ts';
import { SHARE_PRIOR } from './spreads.ts';

/** Thirty items, four seasons that are the blocks, one to three trees, one plate each before two tasters. */
function trial(): MixedObservations {
  const random = seededRandom(4);
  const rows: { y: number; item: number; season: number; tree: number; plate: number }[] = [];
  const ofSeason = [0, 1, 2, 3].map(() => 0.4 * random.normal());
  for (let item = 0; item < 30; item++) {
    const ofItem = random.normal();
    const swing = ofSeason.map((all) => all + 0.5 * random.normal());
    for (let tree = 0; tree < 1 + (item % 3); tree++) {
      const ofTree = 0.4 * random.normal();
      for (const [season, ofBoth] of swing.entries()) {
        const plate = rows.length;
        const y = 6 + ofItem + ofBoth + ofTree + 0.5 * random.normal();
        for (let taster = 0; taster < 2; taster++) {
          rows.push({ y: y + 0.6 * random.normal(), item, season, tree: 3 * item + tree, plate });
        }
      }
    }
  }
  return {
    y: rows.map(({ y }) => y),
    item: rows.map(({ item }) => item),
    season: rows.map(({ season }) => season),
    tree: rows.map(({ tree }) => tree),
    plate: rows.map(({ plate }) => plate),
    block: rows.map(({ season }) => season),
    factors: [rows.map((_, at) => at % 2)],
  };
}

const NAMES = ['item', 'season', 'tree', 'plate', 'residual'] as const;

/** Means and standard deviations of the logarithms of the spreads, and of one item. */
function momentsOf(sampler: MixedSampler, rounds: number) {
  const seen = [...NAMES, 'seventh'].map(() => ({ sum: 0, square: 0 }));
  for (let round = 0; round < rounds; round++) {
    sampler.advance(1);
    const spreads = sampler.spreads();
    const values = NAMES.map((name) => Math.log(spreads[name]));
    for (const [k, value] of [...values, sampler.itemMean[7] ?? 0].entries()) {
      const own = seen[k];
      if (own === undefined) continue;
      own.sum += value / rounds;
      own.square += (value * value) / rounds;
    }
  }
  return seen.map(({ sum, square }) => ({ mean: sum, sd: Math.sqrt(square - sum * sum) }));
}

describe('MixedSampler', () => {
  it('draws from one distribution, whether it walked to it or settled at its peak', () => {
    const layout = mixedLayout(trial());
    const assumptions = { scale: 1, floor: 0, prior: SHARE_PRIOR };
    const walked = new MixedSampler(layout, assumptions, seededRandom(1));
    for (let round = 0; round < 400; round++) walked.advance(2);
    walked.freeze();
    const settled = new MixedSampler(layout, assumptions, seededRandom(2));
    settled.settle();
    for (let round = 0; round < 10; round++) settled.advance(1);
    const [one, other] = [momentsOf(walked, 12_000), momentsOf(settled, 6_000)];
    for (const [k, { mean, sd }] of one.entries()) {
      // Simulation error alone is about a twentieth of a standard deviation for the slower chain.
      expect(Math.abs((other[k]?.mean ?? 0) - mean)).toBeLessThan(0.2 * sd);
      expect(Math.abs(Math.log((other[k]?.sd ?? 0) / sd))).toBeLessThan(0.15);
    }
  });
});
