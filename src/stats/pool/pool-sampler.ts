import { logHalfT3 } from '../joint/spread-prior.ts';
import { Steps } from '../joint/steps.ts';
import { backwardInPlace, choleskyInPlace, forwardInPlace } from '../numbers/cholesky-in-place.ts';
import type { SeededRandom } from '../random/seeded-random.ts';
import { type EnvironmentAxes, environmentAxes, turnBack, turnTo } from './environment-axes.ts';
import type { PooledTrials, PoolPrior } from './pooled-trials.ts';

/** Spreads below this share of the scale are zero for every purpose. */
const LEAST_SHARE = 1e-4;
const TOGETHER_STEP = 0.4;

/**
 * Gibbs sampler of the second stage (MODEL.md beside the pooled judgement says the model): in environment e
 *
 *     value[i] = level[e] + width[e] (worth[i] + interaction[i, e]) + error[i]
 *
 * with errors of known covariance, worths N(0, item²), interactions N(0, interaction²), flat levels. Levels and
 * interactions are integrated out of every step but the last, and worths are drawn all at once, so that a round hardly
 * depends on the one before.
 */
export class PoolSampler {
  readonly environments: readonly EnvironmentAxes[];
  readonly items: number;
  /** Spread between items, and of what they are to one environment. */
  item: number;
  interaction: number;
  /** By environment, logarithms. */
  readonly widths: Float64Array;
  /** Log of the factor by which error variances are off. */
  error: number;
  /** By item. */
  readonly worth: Float64Array;
  readonly #prior: PoolPrior;
  readonly #scale: number;
  readonly #random: SeededRandom;
  /** By environment, the worths of its items along its axes. */
  readonly #turned: readonly Float64Array[];
  readonly #gathered: readonly Float64Array[];
  readonly #factor: Float64Array;
  /** Conditional mean of the worths. */
  readonly mean: Float64Array;
  readonly #noise: Float64Array;
  readonly #weights: Float64Array;
  readonly #sums: Float64Array;
  /** item, interaction, worths along, error, then widths. */
  readonly #steps: Steps;
  /** Log of the mean error variance of an item against the others of its environment. */
  readonly #logError: number;

  constructor(
    { items, environments, scale }: PooledTrials,
    prior: PoolPrior,
    random: SeededRandom,
  ) {
    this.environments = environments.map(environmentAxes);
    this.items = items;
    this.#prior = prior;
    this.#scale = scale;
    this.#random = random;
    const { item, interaction } = prior.shares;
    this.item = scale * Math.sqrt(item / (item + interaction));
    this.interaction = scale * Math.sqrt(interaction / (item + interaction));
    this.widths = new Float64Array(environments.length);
    this.worth = new Float64Array(items);
    this.mean = new Float64Array(items);
    this.#turned = environments.map((own) => new Float64Array(own.items.length));
    this.#gathered = environments.map((own) => new Float64Array(own.items.length));
    this.#factor = new Float64Array(items * items);
    this.#noise = new Float64Array(items);
    const most = Math.max(...environments.map((own) => own.items.length));
    this.#weights = new Float64Array(most);
    this.#sums = new Float64Array(most);
    this.#steps = new Steps(4 + environments.length, 0.5);
    this.error = prior.errors.mean;
    this.#logError = Math.log(meanError(this.environments));
    this.solveWorths();
    this.drawWorths(1);
  }

  /** One round. */
  advance(): void {
    for (let e = 0; e < this.environments.length; e++) {
      this.#walkWidth(e);
    }
    this.#walkError();
    for (let turn = 0; turn < 2; turn++) this.#walkInteraction();
    this.#walkAlong();
    this.#walkTogether();
    for (let turn = 0; turn < 2; turn++) this.#walkItem();
    this.#slideWidths();
    this.solveWorths();
    this.drawNoise();
    this.drawWorths(1);
  }

  /** Ends the tuning of steps. */
  freeze(): void {
    this.#steps.freeze();
  }

  /** Takes in what all environments say of the worths, spreads and widths as they are; leaves their mean. */
  solveWorths(): void {
    const [count, factor, mean] = [this.items, this.#factor, this.mean];
    factor.fill(0);
    mean.fill(0);
    for (let e = 0; e < this.environments.length; e++) this.#gather(e);
    const own = 1 / (this.item * this.item);
    for (let at = 0; at < count; at++) {
      const cell = at * count + at;
      factor[cell] = (factor[cell] as number) + own;
    }
    choleskyInPlace(factor, count);
    forwardInPlace(factor, count, mean);
    backwardInPlace(factor, count, mean);
  }

  drawNoise(): void {
    this.#random.normals(this.#noise, this.items);
  }

  /** Draws the worths about their mean, with the noise drawn last; -1 gives the mirror image. */
  drawWorths(sign: number): void {
    const { worth, mean, items } = this;
    for (let at = 0; at < items; at++) worth[at] = sign * (this.#noise[at] as number);
    backwardInPlace(this.#factor, items, worth);
    for (let at = 0; at < items; at++) worth[at] = (worth[at] as number) + (mean[at] as number);
    this.environments.forEach((environment, e) => {
      const gathered = this.#gathered[e] as Float64Array;
      for (let at = 0; at < gathered.length; at++) {
        gathered[at] = worth[environment.items[at] as number] as number;
      }
      turnTo(environment.axes, gathered, this.#turned[e] as Float64Array);
    });
  }

  /**
   * Draws the level of an environment and what each of its items has there beside its worth, both in its own marks,
   * given the worths.
   *
   * @param noise standard normals, one more than there are items
   * @param into by item, width x (worth + interaction)
   * @returns the level
   */
  drawAt(e: number, noise: Float64Array, sign: number, into: Float64Array): number {
    const { axes, variance, value, level } = this.environments[e] as EnvironmentAxes;
    const turned = this.#turned[e] as Float64Array;
    const width = Math.exp(this.widths[e] as number);
    const spread = (width * this.interaction) ** 2;
    const off = Math.exp(this.error);
    let [precision, right] = [0, 0];
    for (let axis = 0; axis < value.length; axis++) {
      const weight = (level[axis] as number) / (off * (variance[axis] as number) + spread);
      precision += weight * (level[axis] as number);
      right += weight * ((value[axis] as number) - width * (turned[axis] as number));
    }
    const drawn =
      right / precision + (sign * (noise[value.length] as number)) / Math.sqrt(precision);
    const sums = this.#sums;
    for (let axis = 0; axis < value.length; axis++) {
      const error = off * (variance[axis] as number);
      const rest =
        (value[axis] as number) -
        width * (turned[axis] as number) -
        drawn * (level[axis] as number);
      const share = spread / (error + spread);
      sums[axis] =
        width * (turned[axis] as number) +
        share * rest +
        sign * (noise[axis] as number) * Math.sqrt(error * share);
    }
    turnBack(axes, sums, into);
    return drawn;
  }

  #gather(e: number): void {
    const { items, axes, variance, value, level } = this.environments[e] as EnvironmentAxes;
    const [count, size, factor, mean] = [this.items, items.length, this.#factor, this.mean];
    const [weights, sums] = [this.#weights, this.#sums];
    const width = Math.exp(this.widths[e] as number);
    const spread = (width * this.interaction) ** 2;
    const off = Math.exp(this.error);
    let [levels, values] = [0, 0];
    for (let axis = 0; axis < size; axis++) {
      const weight = 1 / (off * (variance[axis] as number) + spread);
      weights[axis] = weight;
      levels += weight * (level[axis] as number) ** 2;
      values += weight * (level[axis] as number) * (value[axis] as number);
    }
    // What a level that may be anything takes away.
    for (let at = 0; at < size; at++) {
      let sum = 0;
      for (let axis = 0; axis < size; axis++) {
        sum +=
          (axes[axis * size + at] as number) * (weights[axis] as number) * (level[axis] as number);
      }
      sums[at] = sum;
    }
    for (let at = 0; at < size; at++) {
      const row = items[at] as number;
      let right = (-(sums[at] as number) * values) / levels;
      for (let axis = 0; axis < size; axis++) {
        right +=
          (axes[axis * size + at] as number) * (weights[axis] as number) * (value[axis] as number);
      }
      mean[row] = (mean[row] as number) + width * right;
      for (let other = 0; other < size; other++) {
        const column = items[other] as number;
        if (column > row) continue;
        let own = (-(sums[at] as number) * (sums[other] as number)) / levels;
        for (let axis = 0; axis < size; axis++) {
          own +=
            (axes[axis * size + at] as number) *
            (weights[axis] as number) *
            (axes[axis * size + other] as number);
        }
        const cell = row * count + column;
        factor[cell] = (factor[cell] as number) + width * width * own;
      }
    }
  }

  /** Log density of an environment's values given the worths, its level and interactions integrated out. */
  #logDensity(
    e: number,
    logWidth: number,
    logError: number,
    interaction: number,
    factor = 1,
  ): number {
    const { variance, value, level } = this.environments[e] as EnvironmentAxes;
    const turned = this.#turned[e] as Float64Array;
    const width = Math.exp(logWidth);
    const spread = (width * interaction) ** 2;
    const off = Math.exp(logError);
    let [logs, levels, across, square] = [0, 0, 0, 0];
    for (let axis = 0; axis < value.length; axis++) {
      const total = off * (variance[axis] as number) + spread;
      const rest = (value[axis] as number) - width * factor * (turned[axis] as number);
      const one = level[axis] as number;
      logs += Math.log(total);
      levels += (one * one) / total;
      across += (one * rest) / total;
      square += (rest * rest) / total;
    }
    return -(logs + Math.log(levels) + square - (across * across) / levels) / 2;
  }

  #logDensities(interaction: number, factor = 1, error = this.error): number {
    let sum = 0;
    for (let e = 0; e < this.environments.length; e++) {
      sum += this.#logDensity(e, this.widths[e] as number, error, interaction, factor);
    }
    return sum;
  }

  /** Per log of both spreads. */
  #logPrior(item: number, interaction: number): number {
    const { shares } = this.#prior;
    const total = item * item + interaction * interaction;
    const logShares =
      2 * (shares.item * Math.log(item) + shares.interaction * Math.log(interaction)) -
      (shares.item + shares.interaction) * Math.log(total);
    return (
      logShares + logHalfT3(Math.sqrt(total) / this.#scale) + this.#logRatio(this.error, total)
    );
  }

  /** Log density of how errors compare with the variance of items within environments. */
  #logRatio(error: number, total: number): number {
    const { mean, sd } = this.#prior.ratio;
    return -((error + this.#logError - Math.log(total) - mean) ** 2) / (2 * sd * sd);
  }

  #accepts(gain: number, least: number): boolean {
    const threshold = Math.log(1 - this.#random.uniform());
    return least > this.#scale * LEAST_SHARE && threshold < gain;
  }

  #walkWidth(e: number): void {
    const { widths: sd } = this.#prior;
    const before = this.widths[e] as number;
    const after = before + this.#steps.at(4 + e) * this.#random.normal();
    const { error } = this;
    const gain =
      this.#logDensity(e, after, error, this.interaction) -
      this.#logDensity(e, before, error, this.interaction) +
      (before * before - after * after) / (2 * sd * sd);
    const taken = this.#accepts(gain, this.#scale);
    this.#steps.tell(4 + e, taken);
    if (taken) this.widths[e] = after;
  }

  #walkError(): void {
    const { mean, sd } = this.#prior.errors;
    const after = this.error + this.#steps.at(3) * this.#random.normal();
    const total = this.item ** 2 + this.interaction ** 2;
    const gain =
      this.#logDensities(this.interaction, 1, after) -
      this.#logDensities(this.interaction) +
      ((this.error - mean) ** 2 - (after - mean) ** 2) / (2 * sd * sd) +
      this.#logRatio(after, total) -
      this.#logRatio(this.error, total);
    const taken = this.#accepts(gain, this.#scale);
    this.#steps.tell(3, taken);
    if (taken) this.error = after;
  }

  #walkInteraction(): void {
    const after = this.interaction * Math.exp(this.#steps.at(1) * this.#random.normal());
    const gain =
      this.#logDensities(after) -
      this.#logDensities(this.interaction) +
      this.#logPrior(this.item, after) -
      this.#logPrior(this.item, this.interaction);
    const taken = this.#accepts(gain, after);
    this.#steps.tell(1, taken);
    if (taken) this.interaction = after;
  }

  /** The spread of items given the worths. */
  #walkItem(): void {
    let square = 0;
    for (let at = 0; at < this.items; at++) square += (this.worth[at] as number) ** 2;
    const after = this.item * Math.exp(this.#steps.at(0) * this.#random.normal());
    const density = (spread: number) =>
      -this.items * Math.log(spread) -
      square / (2 * spread * spread) +
      this.#logPrior(spread, this.interaction);
    const taken = this.#accepts(density(after) - density(this.item), after);
    this.#steps.tell(0, taken);
    if (taken) this.item = after;
  }

  /** The spread of items with the worths scaled along: only what was seen and the prior have a say. */
  #walkAlong(): void {
    const factor = Math.exp(this.#steps.at(2) * this.#random.normal());
    const gain =
      this.#logDensities(this.interaction, factor) -
      this.#logDensities(this.interaction) +
      this.#logPrior(this.item * factor, this.interaction) -
      this.#logPrior(this.item, this.interaction);
    const taken = this.#accepts(gain, this.item * factor);
    this.#steps.tell(2, taken);
    if (!taken) return;
    this.item *= factor;
    this.#scaleWorths(factor);
  }

  /** Both spreads by one factor with the worths: nothing holds the total where one at a time could not leave. */
  #walkTogether(): void {
    const factor = Math.exp(TOGETHER_STEP * this.#random.normal());
    const [item, interaction] = [this.item * factor, this.interaction * factor];
    const gain =
      this.#logDensities(interaction, factor) -
      this.#logDensities(this.interaction) +
      this.#logPrior(item, interaction) -
      this.#logPrior(this.item, this.interaction);
    if (!this.#accepts(gain, Math.min(item, interaction))) return;
    this.item = item;
    this.interaction = interaction;
    this.#scaleWorths(factor);
  }

  /** All widths by one factor and all that they multiply by its inverse, which no value can tell. */
  #slideWidths(): void {
    const { widths: sd } = this.#prior;
    const shift = (sd / Math.sqrt(this.widths.length)) * this.#random.normal();
    let gain = 0;
    for (let e = 0; e < this.widths.length; e++) {
      const before = this.widths[e] as number;
      gain += (before * before - (before + shift) ** 2) / (2 * sd * sd);
    }
    const factor = Math.exp(-shift);
    const [item, interaction] = [this.item * factor, this.interaction * factor];
    gain += this.#logPrior(item, interaction) - this.#logPrior(this.item, this.interaction);
    if (!this.#accepts(gain, Math.min(item, interaction))) return;
    for (let e = 0; e < this.widths.length; e++) {
      this.widths[e] = (this.widths[e] as number) + shift;
    }
    this.item = item;
    this.interaction = interaction;
    this.#scaleWorths(factor);
  }

  #scaleWorths(factor: number): void {
    for (let at = 0; at < this.items; at++) this.worth[at] = (this.worth[at] as number) * factor;
    for (const turned of this.#turned) {
      for (let at = 0; at < turned.length; at++) turned[at] = (turned[at] as number) * factor;
    }
  }
}

/** Mean error variance of an item against the others of its environment. */
function meanError(environments: readonly EnvironmentAxes[]): number {
  let [sum, freedom] = [0, 0];
  for (const { variance, level } of environments) {
    let [total, levels] = [0, 0];
    for (let axis = 0; axis < variance.length; axis++) {
      total += variance[axis] as number;
      levels += (level[axis] as number) ** 2 * (variance[axis] as number);
    }
    // Less the variance of their mean.
    sum += total - levels / variance.length;
    freedom += variance.length - 1;
  }
  return sum / freedom;
}
