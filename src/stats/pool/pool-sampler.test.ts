import { describe, expect, it } from 'vitest';
import { seededRandom } from '../random/seeded-random.ts';
import { turnTo } from './environment-axes.ts';
import { poolDraws } from './pool-draws.ts';
import { PoolSampler } from './pool-sampler.ts';
import { type EnvironmentFindings, POOL_PRIOR, type PooledTrials } from './pooled-trials.ts';

const SEEN = [
  [0, 1, 2, 4],
  [0, 2, 3],
  [1, 2, 3, 4, 5],
  [0, 5],
];

/** Environments whose errors go together, as those of one trial do. */
function trials(value: (e: number, item: number) => number): PooledTrials {
  return {
    items: 6,
    scale: 1,
    environments: SEEN.map((items, e): EnvironmentFindings => {
      const covariance = new Float64Array(items.length ** 2).fill(0.1);
      items.forEach((_, at) => {
        covariance[at * items.length + at] = 0.3 + 0.1 * ((at + e) % 3);
      });
      return { items, mean: Float64Array.from(items, (item) => value(e, item)), covariance };
    }),
  };
}

// Getting it right: the chain and fresh data in turns must leave the prior as it is (Geweke 2004, JASA 99:799-804).
describe('PoolSampler', () => {
  it('brings back the prior where it sees what it believes', () => {
    const random = seededRandom(5);
    const sampler = new PoolSampler(
      trials((e, item) => Math.sin(e + item)),
      POOL_PRIOR,
      random,
    );
    const told = ['item', 'interaction', 'width', 'error', 'square'].map((): number[] => []);
    const rounds = 30_000;
    for (let round = 0; round < rounds; round++) {
      sampler.advance();
      if (round === 1000) sampler.freeze();
      sampler.environments.forEach((environment, e) => {
        const { items, axes, variance, value, level } = environment;
        const width = Math.exp(sampler.widths[e] as number);
        const here = Float64Array.from(
          items,
          (item) =>
            width * ((sampler.worth[item] as number) + sampler.interaction * random.normal()),
        );
        turnTo(axes, here, value);
        const off = Math.exp(sampler.error);
        // Any level: it is integrated out.
        value.forEach((own, axis) => {
          value[axis] =
            own +
            3 * (level[axis] as number) +
            Math.sqrt(off * (variance[axis] as number)) * random.normal();
        });
      });
      if (round < 1000) continue;
      const now = [
        Math.log(sampler.item),
        Math.log(sampler.interaction),
        sampler.widths[1] as number,
        sampler.error,
        ((sampler.worth[2] as number) / sampler.item) ** 2,
      ];
      told.forEach((list, at) => {
        list.push(now[at] as number);
      });
    }
    const expected = priorMoments();
    told.forEach((values, at) => {
      const { mean, sd } = momentsOf(values);
      // The chain is slow in some of these: batch means say how far off it may be.
      const error = batchError(values);
      expect(Math.abs(mean - (expected[at]?.mean ?? Number.NaN)) / error).toBeLessThan(4);
      expect(Math.abs(Math.log(sd / (expected[at]?.sd ?? Number.NaN)))).toBeLessThan(0.15);
    });
  }, 60_000);

  it('is the same whatever level an environment has', () => {
    const options = { seed: 1, warmUp: 50, rounds: 200, home: 0 };
    const value = (e: number, item: number) => Math.cos(2 * e + item);
    const one = poolDraws(trials(value), options);
    const other = poolDraws(
      trials((e, item) => value(e, item) + (e === 2 ? 4 : 0)),
      options,
    );
    const mean = (draws: Float64Array | undefined) => momentsOf([...(draws ?? [])]).mean;
    for (let item = 0; item < 6; item++) {
      // A quarter of what one of four rose goes to the mean level, and nothing to the cultivars.
      expect(mean(other.middle[item]) - mean(one.middle[item])).toBeCloseTo(1, 6);
      expect(mean(other.home?.[item])).toBeCloseTo(mean(one.home?.[item]), 6);
    }
  });

  it('is surer of the middle than of an environment that it never saw', () => {
    const drawn = poolDraws(
      trials((e, item) => Math.cos(2 * e + item)),
      { seed: 1, warmUp: 100, rounds: 1000 },
    );
    for (let item = 0; item < 6; item++) {
      const [middle, elsewhere] = [drawn.middle[item], drawn.elsewhere[item]].map(
        (draws) => momentsOf([...(draws ?? [])]).sd,
      );
      expect(elsewhere).toBeGreaterThan((middle ?? 0) * 1.05);
    }
    expect(drawn.home).toBeUndefined();
  });

  it('is no surer of the middle than of what all environments have in common', () => {
    // Hardly any error and no liking: only how widely all environments spread their items is left in doubt.
    const { environments, ...same } = trials((_, item) => 3 * item);
    const exact = environments.map((own) => ({ ...own, covariance: diagonal(own, 1e-6) }));
    const { middle } = poolDraws(
      { ...same, environments: exact },
      { seed: 1, warmUp: 500, rounds: 1000 },
    );
    const difference = middle[5]?.map((value, d) => value - (middle[0]?.[d] as number)) ?? [];
    const { mean, sd } = momentsOf([...difference].map(Math.log));
    expect(Math.abs(mean - Math.log(15))).toBeLessThan(0.1);
    // Beside what each environment's own width leaves open.
    expect(sd).toBeGreaterThan(POOL_PRIOR.widths);
    expect(sd).toBeLessThan(1.3 * POOL_PRIOR.widths);
  });

  it('refuses what is no number', () => {
    const broken = trials(() => Number.NaN);
    expect(() => poolDraws(broken, { seed: 1, warmUp: 1, rounds: 1 })).toThrow(RangeError);
  });
});

function diagonal({ items }: EnvironmentFindings, variance: number): Float64Array {
  return Float64Array.from({ length: items.length ** 2 }, (_, at) =>
    at % (items.length + 1) === 0 ? variance : 0,
  );
}

/** Of what the test watches, by drawing the prior itself: spreads are accepted by how errors compare with them. */
function priorMoments() {
  const random = seededRandom(99);
  const { shares, widths, errors, ratio } = POOL_PRIOR;
  const environments = trials(() => 0).environments;
  const logError = Math.log(
    sum(
      environments.map(({ items, covariance }) => {
        const diagonal = items.map((_, at) => covariance[at * items.length + at] as number);
        return sum(diagonal) - sum([...covariance]) / items.length;
      }),
    ) / sum(environments.map(({ items }) => items.length - 1)),
  );
  const drawn: number[][] = [[], [], [], [], []];
  while ((drawn[0]?.length ?? 0) < 40_000) {
    const total = Math.abs(random.normal()) / Math.sqrt(random.gamma(1.5) / 1.5);
    const [a, b] = [random.gamma(shares.item), random.gamma(shares.interaction)];
    const error = errors.mean + errors.sd * random.normal();
    const off = (error + logError - 2 * Math.log(total) - ratio.mean) / ratio.sd;
    if (random.uniform() > Math.exp((-off * off) / 2)) continue;
    const now = [
      Math.log(total * Math.sqrt(a / (a + b))),
      Math.log(total * Math.sqrt(b / (a + b))),
      widths * random.normal(),
      error,
      random.normal() ** 2,
    ];
    now.forEach((value, at) => {
      drawn[at]?.push(value);
    });
  }
  return drawn.map(momentsOf);
}

function momentsOf(values: readonly number[]) {
  const mean = sum(values) / values.length;
  return { mean, sd: Math.sqrt(sum(values.map((value) => (value - mean) ** 2)) / values.length) };
}

function batchError(values: readonly number[]): number {
  const size = Math.floor(values.length / 25);
  const means = Array.from(
    { length: 25 },
    (_, at) => momentsOf(values.slice(at * size, (at + 1) * size)).mean,
  );
  return momentsOf(means).sd / Math.sqrt(24);
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}
