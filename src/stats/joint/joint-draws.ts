import { requireFinite } from '../numbers/require-finite.ts';
import { type SeededRandom, seededRandom } from '../random/seeded-random.ts';
import { JOINT_PRIOR, type JointPrior } from './joint-prior.ts';
import { JointSampler } from './joint-sampler.ts';
import { type JointTrial, SITE } from './joint-trial.ts';

/** How long the chain runs; part of the method, so changed only with a calibration. */
export interface JointOptions {
  readonly seed: number;
  readonly warmUp: number;
  /** Rounds that are drawn from. */
  readonly rounds: number;
  /** Rounds to each that is drawn from, since successive ones have much in common; 1 if left out. */
  readonly every?: number | undefined;
  /** Pairs of draws to each of them: one at random about the conditional means, and its mirror image. */
  readonly pairs: number;
  /** Other prior than `JOINT_PRIOR`. */
  readonly prior?: JointPrior | undefined;
}

/** The state of the chain at a draw; overwritten by the next. */
export interface JointDraw {
  readonly sampler: JointSampler;
  /**
   * What each item is worth at each site beside the level there: items x sites x parts. At a site where an item never
   * stood its liking for the site is drawn anew.
   */
  readonly standing: Float64Array;
  readonly random: SeededRandom;
  /** Whether it is the mirror image of the draw before. */
  readonly isMirror: boolean;
}

/**
 * Draws what items are worth in several parts at once, with the spreads of all that moved what was seen.
 *
 * A round gives several draws: items at random about their conditional means and the mirror images, which are as good
 * and take most of the error of simulation out of the mean (antithetic variates). Deterministic: the seed fixes all.
 *
 * @param keep is called for each draw, `rounds * pairs * 2` times, with its place; mirror images follow all others
 * @returns the chain as the last round left it
 * @throws RangeError if a value is not finite, arrays differ in length, or a scale is not above 0
 */
export function jointDraws(
  trial: JointTrial,
  { seed, warmUp, rounds, every = 1, pairs, prior = JOINT_PRIOR }: JointOptions,
  keep: (draw: JointDraw, at: number) => void,
): JointSampler {
  requireSound(trial);
  const random = seededRandom(seed);
  const sampler = new JointSampler(trial, prior, random);
  for (let round = 0; round < warmUp; round++) sampler.advance();
  sampler.freeze();
  const standings = new Standings(sampler, trial.sites, random);
  const half = rounds * pairs;
  for (let at = 0; at < half; at++) {
    if (at % pairs === 0) {
      for (let turn = 0; turn < every; turn++) sampler.advance();
      standings.prepare();
    }
    standings.drawNoise();
    keep(standings.draw(1), at);
    keep(standings.draw(-1), half + at);
  }
  return sampler;
}

const ONLY_SITE = [SITE];

/** Draws of what items are worth at the sites, given the rest of the chain. */
class Standings implements JointDraw {
  readonly sampler: JointSampler;
  readonly standing: Float64Array;
  readonly random: SeededRandom;
  isMirror = false;
  readonly #sites: number;
  /** By item and site: which effect that is, -1 where the item never stood there. */
  readonly #effectAt: Int32Array;
  /** By item, one after another: normals for what was seen, then for sites where it never stood. */
  readonly #noise: Float64Array;
  readonly #noiseAt: Int32Array;
  readonly #siteFactor: Float64Array;
  readonly #drawn: Float64Array;

  constructor(sampler: JointSampler, sites: number, random: SeededRandom) {
    const { items, hasSites, firstSite, siteOf } = sampler.places;
    const parts = sampler.parts.length;
    this.sampler = sampler;
    this.random = random;
    this.#sites = sites;
    this.standing = new Float64Array(items * sites * parts);
    this.#effectAt = new Int32Array(items * sites).fill(-1);
    this.#noiseAt = new Int32Array(items + 1);
    for (let item = 0; item < items; item++) {
      const [from, to] = [firstSite[item] as number, firstSite[item + 1] as number];
      for (let at = from; at < to; at++) {
        this.#effectAt[item * sites + (siteOf[at] as number)] = at - from;
      }
      const unseen = hasSites ? sites - (to - from) : 0;
      this.#noiseAt[item + 1] =
        (this.#noiseAt[item] as number) + sampler.effects.lastUnknowns(item) + unseen * parts;
    }
    this.#noise = new Float64Array(this.#noiseAt[items] as number);
    this.#siteFactor = new Float64Array(parts * parts);
    this.#drawn = new Float64Array(parts * (sites + 1));
  }

  /** Takes over the spreads of the round. */
  prepare(): void {
    if (this.sampler.places.hasSites) this.sampler.spreadFactor(ONLY_SITE, this.#siteFactor);
  }

  drawNoise(): void {
    this.random.normals(this.#noise, this.#noise.length);
  }

  draw(sign: number): this {
    this.isMirror = sign < 0;
    for (let item = 0; item < this.sampler.places.items; item++) this.#drawItem(item, sign);
    return this;
  }

  #drawItem(item: number, sign: number): void {
    const { effects, parts, places } = this.sampler;
    const [count, sites, drawn, standing] = [parts.length, this.#sites, this.#drawn, this.standing];
    const [noise, from] = [this.#noise, this.#noiseAt[item] as number];
    effects.drawLast(item, noise, from, sign, drawn);
    const last = effects.lastUnknowns(item);
    const own = last - count;
    let fresh = from + last;
    for (let site = 0; site < sites; site++) {
      const at = (item * sites + site) * count;
      const effect = this.#effectAt[item * sites + site] as number;
      for (let k = 0; k < count; k++) {
        let value = drawn[own + k] as number;
        if (effect >= 0) value += drawn[effect * count + k] as number;
        else if (places.hasSites) {
          for (let l = 0; l <= k; l++) {
            value +=
              sign * (this.#siteFactor[k * count + l] as number) * (noise[fresh + l] as number);
          }
        }
        standing[at + k] = value;
      }
      if (effect < 0 && places.hasSites) fresh += count;
    }
  }
}

function requireSound({ parts }: JointTrial): void {
  if (parts.length === 0) throw new RangeError('a joint model needs a part');
  for (const { y, item, season, tree, site, plate, block, scale, ...part } of parts) {
    const { judge = y, variance = y, age = y } = part;
    for (const array of [item, season, tree, site, plate, block, judge, variance, age]) {
      if (array.length !== y.length) throw new RangeError('every observation needs all its groups');
    }
    requireFinite('values', y);
    if (part.variance !== undefined) requireFinite('variances', part.variance);
    if (!(scale > 0)) throw new RangeError(`a scale is above 0, not ${scale}`);
  }
}
