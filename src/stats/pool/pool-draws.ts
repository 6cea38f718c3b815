import { requireFinite } from '../numbers/require-finite.ts';
import { seededRandom } from '../random/seeded-random.ts';
import { PoolSampler } from './pool-sampler.ts';
import { POOL_PRIOR, type PooledTrials, type PoolPrior } from './pooled-trials.ts';

/** How long the chain runs; part of the method, so changed only with a calibration. */
export interface PoolChain {
  readonly seed: number;
  readonly warmUp: number;
  readonly rounds: number;
  /** Other prior than `POOL_PRIOR`. */
  readonly prior?: PoolPrior | undefined;
  /** The environment for which all items are told, whether they were seen there or not. */
  readonly home?: number | undefined;
}

/** Draw d of everything belongs together; all in the marks that the environments give on average. */
export interface PoolDraws {
  /** By item: at the mean level of the environments, in the middle of environments like these. */
  readonly middle: readonly Float64Array[];
  /** By item: the same in an environment that is not among them. */
  readonly elsewhere: readonly Float64Array[];
  /** By item: at home, at its level and in its own marks; undefined without a home. */
  readonly home: readonly Float64Array[] | undefined;
  /** By environment and its items: the means of what they are worth there, at the mean level of all. */
  readonly at: readonly Float64Array[];
  /** Spreads, one a round. */
  readonly item: Float64Array;
  readonly interaction: Float64Array;
  /** By environment: mean log of its width against the others. */
  readonly widths: Float64Array;
}

/**
 * Draws what items are worth over several environments. A round gives a draw and its mirror image, which stand in the
 * two halves of every list. Deterministic: the seed fixes all.
 *
 * @throws RangeError if a value is not finite
 */
export function poolDraws(trials: PooledTrials, options: PoolChain): PoolDraws {
  const { environments, items } = trials;
  for (const { mean, covariance } of environments) {
    requireFinite('values', [...mean]);
    requireFinite('covariances', [...covariance]);
  }
  const { seed, warmUp, rounds, prior = POOL_PRIOR, home } = options;
  const random = seededRandom(seed);
  const sampler = new PoolSampler(trials, prior, random);
  for (let round = 0; round < warmUp; round++) sampler.advance();
  sampler.freeze();

  const byItem = () => Array.from({ length: items }, () => new Float64Array(2 * rounds));
  const drawn = {
    middle: byItem(),
    elsewhere: byItem(),
    home: home === undefined ? undefined : byItem(),
    at: environments.map((own) => new Float64Array(own.items.length)),
    item: new Float64Array(rounds),
    interaction: new Float64Array(rounds),
    widths: new Float64Array(environments.length),
  };
  const noise = environments.map((own) => new Float64Array(own.items.length + 1));
  const fresh = new Float64Array(2 * items);
  const beside = environments.map((own) => new Float64Array(own.items.length));
  const levels = new Float64Array(environments.length);
  const seenAtHome = new Int32Array(items).fill(-1);
  if (home !== undefined) {
    environments[home]?.items.forEach((item, at) => {
      seenAtHome[item] = at;
    });
  }

  for (let round = 0; round < rounds; round++) {
    sampler.advance();
    for (const own of noise) random.normals(own, own.length);
    random.normals(fresh, fresh.length);
    const middleWidth = meanOf(sampler.widths);
    // What all environments have in common none of them can tell: it is doubted as much as beforehand.
    const marks = Math.exp(middleWidth + prior.widths * random.normal());
    drawn.item[round] = marks * sampler.item;
    drawn.interaction[round] = marks * sampler.interaction;
    for (let e = 0; e < environments.length; e++) {
      drawn.widths[e] =
        (drawn.widths[e] as number) + ((sampler.widths[e] as number) - middleWidth) / rounds;
    }
    for (const sign of [1, -1]) {
      const d = sign === 1 ? round : rounds + round;
      if (sign < 0) sampler.drawWorths(sign);
      for (let e = 0; e < environments.length; e++) {
        const own = beside[e] as Float64Array;
        levels[e] = sampler.drawAt(e, noise[e] as Float64Array, sign, own);
      }
      const level = meanOf(levels);
      for (let e = 0; e < environments.length; e++) {
        const [own, sums] = [beside[e] as Float64Array, drawn.at[e] as Float64Array];
        const ratio = marks / Math.exp(sampler.widths[e] as number) / (2 * rounds);
        for (let at = 0; at < own.length; at++) {
          sums[at] = (sums[at] as number) + level / (2 * rounds) + ratio * (own[at] as number);
        }
      }
      for (let item = 0; item < items; item++) {
        const middle = level + marks * (sampler.worth[item] as number);
        (drawn.middle[item] as Float64Array)[d] = middle;
        (drawn.elsewhere[item] as Float64Array)[d] =
          middle + sign * marks * sampler.interaction * (fresh[item] as number);
        if (home === undefined || drawn.home === undefined) continue;
        const at = seenAtHome[item] as number;
        const width = Math.exp(sampler.widths[home] as number);
        (drawn.home[item] as Float64Array)[d] =
          (levels[home] as number) +
          (at >= 0
            ? ((beside[home] as Float64Array)[at] as number)
            : width *
              ((sampler.worth[item] as number) +
                sign * sampler.interaction * (fresh[items + item] as number)));
      }
    }
  }
  return drawn;
}

function meanOf(values: Float64Array): number {
  let sum = 0;
  for (let at = 0; at < values.length; at++) sum += values[at] as number;
  return sum / values.length;
}
