import { describe, expect, it } from 'vitest';
import { PoolSampler } from '../../src/stats/pool/pool-sampler.ts';
import { POOL_PRIOR } from '../../src/stats/pool/pooled-trials.ts';
import { seededRandom } from '../../src/stats/random/seeded-random.ts';
import { readReference } from './read-reference.ts';

interface Mixed {
  readonly id: string;
  readonly data: { readonly columns: Readonly<Record<string, readonly (number | string)[]>> };
  readonly expected: {
    readonly variance_components: { readonly Subject: number; readonly Residual: number };
    readonly blups: {
      readonly Subject: {
        readonly level: readonly string[];
        readonly blup: readonly number[];
        readonly se_prediction_error: readonly number[];
      };
    };
  };
}

// Wretenberg, Arborelius and Lindberg 1993, Ergonomics 36:519-526, by Pinheiro and Bates 2000, Mixed-Effects Models in S
// and S-PLUS, 1.2: stools fixed, subjects random. Here stools are environments with a level each, and of the residual
// variance a part is what an environment is to an item and the rest is error: only their sum can be told.
const cases = readReference('h_reml_blup').cases as unknown as readonly Mixed[];

describe('worths at known spreads are the best linear unbiased predictions', () => {
  it.each(
    cases.filter(({ id }) => id.startsWith('ergoStool')).map((one) => [one.id, one] as const),
  )('%s', (_, { data, expected }) => {
    const { effort = [], Type = [], Subject = [] } = data.columns;
    const { level, blup, se_prediction_error: errors } = expected.blups.Subject;
    const { Subject: item, Residual: rest } = expected.variance_components;
    const environments = [...new Set(Type)].map((type) => {
      const rows = [...effort.keys()].filter((at) => Type[at] === type);
      const covariance = new Float64Array(rows.length ** 2);
      rows.forEach((_, at) => {
        covariance[at * rows.length + at] = 0.3 * rest;
      });
      return {
        items: rows.map((at) => level.indexOf(String(Subject[at]))),
        mean: Float64Array.from(rows, (at) => Number(effort[at])),
        covariance,
      };
    });
    const random = seededRandom(1);
    const sampler = new PoolSampler(
      { items: level.length, environments, scale: 1 },
      POOL_PRIOR,
      random,
    );
    sampler.item = Math.sqrt(item);
    sampler.interaction = Math.sqrt(0.7 * rest);
    sampler.error = 0;
    sampler.solveWorths();
    // The components stand at the top of the likelihood to about 1e-10, which moves predictions by less than this.
    blup.forEach((effect, at) => {
      expect(Math.abs((sampler.mean[at] as number) - effect)).toBeLessThan(1e-8);
    });
    const squares = new Float64Array(level.length);
    const draws = 20_000;
    for (let d = 0; d < draws; d++) {
      sampler.drawNoise();
      sampler.drawWorths(1);
      for (let at = 0; at < squares.length; at++) {
        const off = (sampler.worth[at] as number) - (sampler.mean[at] as number);
        squares[at] = (squares[at] as number) + off * off;
      }
    }
    // Standard deviations of 20,000 draws: within 2 % at four of their own errors.
    errors.forEach((error, at) => {
      const found = Math.sqrt((squares[at] as number) / draws);
      expect(Math.abs(found / error - 1)).toBeLessThan(0.02);
    });
  });
});
