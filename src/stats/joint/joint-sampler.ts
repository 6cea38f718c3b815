import { choleskyInPlace } from '../numbers/cholesky-in-place.ts';
import type { SeededRandom } from '../random/seeded-random.ts';
import { CommonShares } from './common-shares.ts';
import { Correlations } from './correlations.ts';
import { type EffectPlaces, effectPlaces } from './effect-places.ts';
import { EffectSolver } from './effect-solver.ts';
import type { JointPrior } from './joint-prior.ts';
import { ITEM, type JointTrial, LEVELS, SEASON, SITE, TREE } from './joint-trial.ts';
import { partCells } from './part-cells.ts';
import { LEAST_SHARE, PartChain } from './part-chain.ts';
import { type Ridge, ridgesOf, Slides } from './slides.ts';
import { expectedShares, logHalfT3, logSpreadPrior } from './spread-prior.ts';
import { Steps } from './steps.ts';

const PACE_STEP = 0.5;
const SCALE_STEPS = [0.3, 0.8];

/**
 * Gibbs sampler of several parts of the same items (MODEL.md beside the trial's lay-out says the model): spreads,
 * correlations and ages given the effects, then levels and blocks, then all effects of an item at once. Its state is
 * that of the chain after each round.
 *
 * Spreads move in two ways, with the effects held and with the effects scaled along, since either alone sticks where
 * there is little to tell a spread (Yu and Meng 2011, Journal of Computational and Graphical Statistics 20:531-570).
 */
export class JointSampler {
  readonly places: EffectPlaces;
  readonly parts: readonly PartChain[];
  readonly effects: EffectSolver;
  readonly together: Correlations;
  readonly shares: CommonShares;
  /** Spreads part by part: of each level, in the order of `LEVELS`. */
  readonly spreads: Float64Array;
  /** Years in which a young tree makes up for 1 - 1/e of what it lacks. */
  pace: number;
  /** Whether age does anything in this trial. */
  readonly ages: boolean;
  readonly #prior: JointPrior;
  readonly #random: SeededRandom;
  readonly #count: number;
  /** By level: parts x parts. */
  readonly #precision: readonly Float64Array[];
  readonly #cross: readonly Float64Array[];
  /** By spot and part: precision of what was seen, that times its mean, and the sum of effects. */
  readonly #weight: Float64Array;
  readonly #right: Float64Array;
  readonly #fit: Float64Array;
  /** Of one part, by spot: precision and score of what is left. */
  readonly #spotWeight: Float64Array;
  readonly #score: Float64Array;
  readonly #scaled: Float64Array;
  readonly #ridges: readonly Ridge[];
  readonly #slides: Slides;
  readonly #centred: Steps;
  readonly #along: Steps;
  readonly #within: Steps;

  constructor(trial: JointTrial, prior: JointPrior, random: SeededRandom) {
    const cells = trial.parts.map(partCells);
    const places = effectPlaces(trial, cells);
    const count = trial.parts.length;
    this.places = places;
    this.#prior = prior;
    this.#random = random;
    this.#count = count;
    this.parts = trial.parts.map(
      (part, k) =>
        new PartChain(
          part,
          cells[k] as PartChain['cells'],
          places.plateSpot[k] as Int32Array,
          prior.levels,
        ),
    );
    this.together = new Correlations(
      count,
      places.counts.map((of) => of > 0),
      prior.together,
      random,
    );
    this.shares = new CommonShares(prior.shares, places.hasSites, random);
    this.#precision = LEVELS.map(() => new Float64Array(count * count));
    this.#cross = LEVELS.map(() => new Float64Array(count * count));
    this.#weight = new Float64Array(places.spots * count);
    this.#right = new Float64Array(places.spots * count);
    this.#fit = new Float64Array(places.spots * count);
    this.#spotWeight = new Float64Array(places.spots);
    this.#score = new Float64Array(places.spots);
    this.#scaled = new Float64Array(count * count);
    this.#ridges = ridgesOf(places, this.parts);
    this.#slides = new Slides(this.parts);
    this.#centred = new Steps(count * LEVELS.length, 0.6);
    this.#along = new Steps(count * LEVELS.length, 0.4);
    this.#within = new Steps(count * 2, 0.5);
    this.spreads = startingSpreads(this.parts, prior, places.hasSites);
    this.pace = Math.exp(prior.pace.mean);
    this.ages = this.parts.some(({ young }) => young.length > 0);
    for (const part of this.parts) {
      if (part.aging === 'earns' && part.young.length > 0) {
        part.earned = prior.earned.mean * part.scale;
      }
      part.ageBy(this.pace);
      part.weigh();
    }
    this.effects = new EffectSolver(places, this.#precision, this.#weight, this.#right);
    this.#setPrecisions();
    this.#drawLevels();
    this.#drawEffects();
  }

  /** One round. */
  advance(): void {
    this.#drawLatent();
    for (let level = 0; level < LEVELS.length; level++) this.#addUpCross(level);
    for (let part = 0; part < this.#count; part++) this.#drawSpreads(part);
    this.shares.step(this.parts, this.spreads);
    this.#drawCorrelations();
    if (this.ages) this.#drawAges();
    this.#setPrecisions();
    this.#slide();
    this.#drawLevels();
    this.#drawEffects();
  }

  /** Ends the tuning of steps. */
  freeze(): void {
    for (const one of [this.#centred, this.#along, this.#within, this.shares]) one.freeze();
  }

  spread(part: number, level: number): number {
    return this.spreads[part * LEVELS.length + level] as number;
  }

  /** Lower Cholesky factor of the covariance of the sum of effects of some levels: parts x parts. */
  spreadFactor(levels: readonly number[], into: Float64Array): void {
    const [count, matrix] = [this.#count, this.#scaled];
    into.fill(0);
    for (const level of levels) {
      this.together.matrix(level, matrix);
      for (let a = 0; a < count; a++) {
        for (let b = 0; b < count; b++) {
          const at = a * count + b;
          const own = this.spread(a, level) * this.spread(b, level);
          into[at] = (into[at] as number) + (matrix[at] as number) * own;
        }
      }
    }
    choleskyInPlace(into, count);
  }

  #slide(): void {
    for (const ridge of this.#ridges) {
      const effects = this.effects.effects[ridge.level] as Float64Array;
      const precision = this.#precision[ridge.level] as Float64Array;
      this.#slides.along(ridge, effects, precision, this.#fit, this.#random);
    }
  }

  #drawLatent(): void {
    for (let k = 0; k < this.#count; k++) {
      const part = this.parts[k] as PartChain;
      if (part.latent === undefined) continue;
      part.takeEffects(this.#fit, this.#count, k);
      part.latent.draw(part, this.#random);
    }
  }

  #drawLevels(): void {
    this.#weight.fill(0);
    this.#right.fill(0);
    for (let k = 0; k < this.#count; k++) {
      const part = this.parts[k] as PartChain;
      part.drawLevels(this.#fit, this.#count, k, this.#random);
      addBySpot(part, this.#count, k, this.#weight, this.#right);
    }
  }

  #drawEffects(): void {
    for (let item = 0; item < this.places.items; item++) this.effects.draw(item, this.#random);
    this.effects.fit(this.#fit);
  }

  #setPrecisions(): void {
    const [count, levels] = [this.#count, LEVELS.length];
    for (let level = 0; level < levels; level++) {
      const precision = this.#precision[level] as Float64Array;
      const inverse = this.together.inverse[level] as Float64Array;
      for (let a = 0; a < count; a++) {
        for (let b = 0; b < count; b++) {
          precision[a * count + b] =
            (inverse[a * count + b] as number) /
            ((this.spreads[a * levels + level] as number) *
              (this.spreads[b * levels + level] as number));
        }
      }
    }
  }

  #addUpCross(level: number): void {
    const count = this.#count;
    const cross = this.#cross[level] as Float64Array;
    crossProducts(this.effects.effects[level] as Float64Array, count, cross);
  }

  #priorOf(part: number, plate: number): number {
    const { scale } = this.parts[part] as PartChain;
    const from = part * LEVELS.length;
    const { parameters } = this.shares;
    return logSpreadPrior(this.spreads, from, plate, scale, parameters, this.#prior.keptOff);
  }

  #drawSpreads(k: number): void {
    const part = this.parts[k] as PartChain;
    part.takeEffects(this.#fit, this.#count, k);
    this.#walkWithin(part, k);
    part.weigh();
    this.#spotWeight.fill(0);
    this.#score.fill(0);
    addScores(part, this.#spotWeight, this.#score);
    let prior = this.#priorOf(k, part.plate);
    for (let level = 0; level < LEVELS.length; level++) {
      if (this.places.counts[level] !== 0) prior = this.#walkAlong(part, k, level, prior);
    }
    part.takeEffects(this.#fit, this.#count, k);
    for (const step of SCALE_STEPS) this.#walkTogether(part, k, step);
    prior = this.#priorOf(k, part.plate);
    for (let turn = 0; turn < 2; turn++) {
      for (let level = 0; level < LEVELS.length; level++) {
        if (this.places.counts[level] !== 0) prior = this.#walkCentred(part, k, level, prior);
      }
    }
  }

  /** Spread of plates, and of observations within them, given the effects. */
  #walkWithin(part: PartChain, k: number): void {
    const [random, steps] = [this.#random, this.#within];
    let current = logLikelihood(part, part.plate, part.residual) + this.#priorOf(k, part.plate);
    for (let turn = 0; turn < 2; turn++) {
      const plate = part.plate * Math.exp(steps.at(2 * k) * random.normal());
      const threshold = Math.log(1 - random.uniform());
      let taken = false;
      if (plate > part.scale * LEAST_SHARE) {
        const proposed = logLikelihood(part, plate, part.residual) + this.#priorOf(k, plate);
        taken = threshold < proposed - current;
        if (taken) {
          part.plate = plate;
          current = proposed;
        }
      }
      steps.tell(2 * k, taken);
    }
    if (part.cells.hasKnownVariance) return;
    let own =
      residualPrior(part, part.ownResidual) + logLikelihood(part, part.plate, part.residual);
    for (let turn = 0; turn < 2; turn++) {
      const residual = part.ownResidual * Math.exp(steps.at(2 * k + 1) * random.normal());
      const threshold = Math.log(1 - random.uniform());
      let taken = false;
      if (residual > part.scale * LEAST_SHARE) {
        const proposed =
          residualPrior(part, residual) +
          logLikelihood(part, part.plate, part.residualOf(residual));
        taken = threshold < proposed - own;
        if (taken) {
          part.ownResidual = residual;
          own = proposed;
        }
      }
      steps.tell(2 * k + 1, taken);
    }
  }

  /**
   * A spread with the effects scaled along: only what was seen and the prior of the spread have a say.
   *
   * @param prior its log density before
   * @returns that after
   */
  #walkAlong(part: PartChain, k: number, level: number, prior: number): number {
    const at = k * LEVELS.length + level;
    const factor = Math.exp(this.#along.at(at) * this.#random.normal());
    const threshold = Math.log(1 - this.#random.uniform());
    const before = this.spreads[at] as number;
    const change = factor - 1;
    const bend = this.#bendOf(k, level, change);
    this.spreads[at] = before * factor;
    const proposed = this.#priorOf(k, part.plate);
    const gain = bend + proposed - prior;
    const taken = before * factor > part.scale * LEAST_SHARE && threshold < gain;
    this.#along.tell(at, taken);
    if (taken) {
      this.#scaleEffects(k, level, factor);
      return proposed;
    }
    this.spreads[at] = before;
    return prior;
  }

  /** What the log likelihood gains where all effects of a part at a level grow by this share of themselves. */
  #bendOf(k: number, level: number, change: number): number {
    const effects = this.effects.effects[level] as Float64Array;
    const place = placeOfSpots(this.places, level);
    const [weight, score, count] = [this.#spotWeight, this.#score, this.#count];
    let [slope, curve] = [0, 0];
    for (let spot = 0; spot < score.length; spot++) {
      const effect = effects[(place[spot] as number) * count + k] as number;
      slope += effect * (score[spot] as number);
      curve += effect * effect * (weight[spot] as number);
    }
    return change * slope - (change * change * curve) / 2;
  }

  #scaleEffects(k: number, level: number, factor: number): void {
    const effects = this.effects.effects[level] as Float64Array;
    const place = placeOfSpots(this.places, level);
    const [weight, score, fit, count] = [this.#spotWeight, this.#score, this.#fit, this.#count];
    for (let spot = 0; spot < score.length; spot++) {
      const more = (factor - 1) * (effects[(place[spot] as number) * count + k] as number);
      const at = spot * count + k;
      fit[at] = (fit[at] as number) + more;
      score[spot] = (score[spot] as number) - more * (weight[spot] as number);
    }
    scalePart(effects, count, k, factor);
    scaleCross(this.#cross[level] as Float64Array, count, k, factor);
  }

  /**
   * All spreads of a part by one factor with their effects: its shares stay as they are, so nothing holds the total
   * where one spread at a time could not leave.
   */
  #walkTogether(part: PartChain, k: number, step: number): void {
    const [random, count, levels] = [this.#random, this.#count, LEVELS.length];
    const factor = Math.exp(step * random.normal());
    const threshold = Math.log(1 - random.uniform());
    const [left, spot, fit] = [part.left, part.spot, this.#fit];
    const before = logLikelihood(part, part.plate, part.residual) + this.#priorOf(k, part.plate);
    for (let p = 0; p < left.length; p++) {
      left[p] =
        (left[p] as number) + (1 - factor) * (fit[(spot[p] as number) * count + k] as number);
    }
    for (let level = 0; level < levels; level++) this.#scaleSpread(k, level, factor);
    const plate = part.plate * factor;
    const gain = logLikelihood(part, plate, part.residual) + this.#priorOf(k, plate) - before;
    let least = plate;
    for (let level = 0; level < levels; level++) least = Math.min(least, this.spread(k, level));
    if (least > part.scale * LEAST_SHARE && threshold < gain) {
      part.plate = plate;
      part.weigh();
      scalePart(fit, count, k, factor);
      for (let level = 0; level < levels; level++) {
        scalePart(this.effects.effects[level] as Float64Array, count, k, factor);
        scaleCross(this.#cross[level] as Float64Array, count, k, factor);
      }
      return;
    }
    for (let level = 0; level < levels; level++) this.#scaleSpread(k, level, 1 / factor);
    part.takeEffects(fit, count, k);
  }

  #scaleSpread(k: number, level: number, factor: number): void {
    const at = k * LEVELS.length + level;
    if (this.places.counts[level] !== 0) {
      this.spreads[at] = (this.spreads[at] as number) * factor;
    }
  }

  /** A spread given the effects of its level; the prior as of `#walkAlong`. */
  #walkCentred(part: PartChain, k: number, level: number, prior: number): number {
    const [count, levels] = [this.#count, LEVELS.length];
    const at = k * levels + level;
    const before = this.spreads[at] as number;
    const after = before * Math.exp(this.#centred.at(at) * this.#random.normal());
    const threshold = Math.log(1 - this.#random.uniform());
    const inverse = this.together.inverse[level] as Float64Array;
    const cross = this.#cross[level] as Float64Array;
    const own = (inverse[k * count + k] as number) * (cross[k * count + k] as number);
    let others = 0;
    for (let b = 0; b < count; b++) {
      if (b === k) continue;
      others +=
        ((inverse[k * count + b] as number) * (cross[k * count + b] as number)) /
        (this.spreads[b * levels + level] as number);
    }
    const effects = this.places.counts[level] as number;
    const density = (spread: number) =>
      -effects * Math.log(spread) - own / (2 * spread * spread) - others / spread;
    this.spreads[at] = after;
    const proposed = this.#priorOf(k, part.plate);
    const gain = density(after) - density(before) + proposed - prior;
    const taken = after > part.scale * LEAST_SHARE && threshold < gain;
    this.#centred.tell(at, taken);
    if (taken) return proposed;
    this.spreads[at] = before;
    return prior;
  }

  #drawCorrelations(): void {
    const [count, levels, scaled] = [this.#count, LEVELS.length, this.#scaled];
    if (count === 1) return;
    for (let level = 0; level < levels; level++) {
      const effects = this.places.counts[level] as number;
      if (effects === 0) continue;
      const cross = this.#cross[level] as Float64Array;
      for (let a = 0; a < count; a++) {
        for (let b = 0; b < count; b++) {
          scaled[a * count + b] =
            (cross[a * count + b] as number) / (this.spread(a, level) * this.spread(b, level));
        }
      }
      this.together.step(level, scaled, effects);
    }
    this.together.drawCentres();
  }

  /** How fast trees grow up, and what young ones lack. */
  #drawAges(): void {
    const { pace, earned } = this.#prior;
    const random = this.#random;
    for (let k = 0; k < this.#count; k++) {
      const part = this.parts[k] as PartChain;
      if (part.young.length === 0) continue;
      part.takeEffects(this.#fit, this.#count, k);
      if (part.aging === 'earns') drawEarned(part, earned, random);
    }
    const proposed = this.pace * Math.exp(PACE_STEP * random.normal());
    const threshold = Math.log(1 - random.uniform());
    const off = (at: number) => (Math.log(at) - pace.mean) ** 2 / (2 * pace.sd ** 2);
    let gain = off(this.pace) - off(proposed);
    for (const part of this.parts) {
      if (part.young.length > 0) gain += paceGain(part, proposed);
    }
    if (!(threshold < gain)) return;
    this.pace = proposed;
    for (const part of this.parts) {
      if (part.young.length === 0) continue;
      part.ageBy(proposed);
      part.weigh();
    }
  }
}

function placeOfSpots(places: EffectPlaces, level: number): Int32Array {
  if (level === ITEM) return places.spotItem;
  if (level === SEASON) return places.spotSeason;
  return level === TREE ? places.spotTree : places.spotSite;
}

/** Total spread as that of the plates, split as the prior has it. */
function startingSpreads(
  parts: readonly PartChain[],
  prior: JointPrior,
  hasSites: boolean,
): Float64Array {
  const shares = expectedShares(prior.shares.centre, hasSites);
  const spreads = new Float64Array(parts.length * LEVELS.length);
  parts.forEach((part, k) => {
    const total = 2 * part.plate;
    for (let level = 0; level < LEVELS.length; level++) {
      // A level that is not there stands at 1, which takes no part in anything.
      const share = level === SITE && !hasSites ? 1 / (total * total) : (shares[level] as number);
      spreads[k * LEVELS.length + level] = total * Math.sqrt(share);
    }
    part.plate = total * Math.sqrt(shares[LEVELS.length] as number);
    part.weigh();
  });
  return spreads;
}

/** Adds what a part's plates say to the spots they belong to. */
function addBySpot(
  { spot, weight, rest }: PartChain,
  parts: number,
  part: number,
  weights: Float64Array,
  rights: Float64Array,
): void {
  for (let p = 0; p < spot.length; p++) {
    const at = (spot[p] as number) * parts + part;
    const w = weight[p] as number;
    weights[at] = (weights[at] as number) + w;
    rights[at] = (rights[at] as number) + w * (rest[p] as number);
  }
}

function addScores(
  { spot, weight, left }: PartChain,
  weights: Float64Array,
  scores: Float64Array,
): void {
  for (let p = 0; p < spot.length; p++) {
    const at = spot[p] as number;
    const w = weight[p] as number;
    weights[at] = (weights[at] as number) + w;
    scores[at] = (scores[at] as number) + w * (left[p] as number);
  }
}

/** Log density of all observations of a part given effects, levels and blocks, up to a constant. */
function logLikelihood(
  { cells, left, withinSquare }: PartChain,
  plate: number,
  residual: number,
): number {
  const { plateVariance, plateSize, observations, plates, hasKnownVariance } = cells;
  const [between, within] = [plate * plate, residual * residual];
  let [product, logs, square] = [1, 0, 0];
  for (let p = 0; p < left.length; p++) {
    const variance = between + (plateVariance[p] as number) + within / (plateSize[p] as number);
    const rest = left[p] as number;
    square += (rest * rest) / variance;
    // Few logarithms: of products that do not run out of the range of numbers.
    product *= variance;
    if (product < 1e-150 || product > 1e150) {
      logs += Math.log(product);
      product = 1;
    }
  }
  logs += Math.log(product);
  const inner = hasKnownVariance
    ? 0
    : -(observations - plates) * Math.log(residual) - withinSquare / (2 * within);
  return inner - (logs + square) / 2;
}

/** The prior is on the residual spread itself, the walk on its part above the floor. */
function residualPrior(part: PartChain, own: number): number {
  const residual = part.residualOf(own);
  return 2 * Math.log(own / residual) + logHalfT3(residual / part.scale);
}

function crossProducts(effects: Float64Array, parts: number, into: Float64Array): void {
  into.fill(0);
  for (let from = 0; from < effects.length; from += parts) {
    for (let a = 0; a < parts; a++) {
      const own = effects[from + a] as number;
      for (let b = 0; b <= a; b++) {
        const at = a * parts + b;
        into[at] = (into[at] as number) + own * (effects[from + b] as number);
      }
    }
  }
  for (let a = 0; a < parts; a++) {
    for (let b = 0; b < a; b++) into[b * parts + a] = into[a * parts + b] as number;
  }
}

function scalePart(values: Float64Array, parts: number, part: number, factor: number): void {
  for (let at = part; at < values.length; at += parts) values[at] = (values[at] as number) * factor;
}

function scaleCross(cross: Float64Array, parts: number, part: number, factor: number): void {
  for (let k = 0; k < parts; k++) {
    cross[part * parts + k] = (cross[part * parts + k] as number) * factor;
    cross[k * parts + part] = (cross[k * parts + part] as number) * factor;
  }
}

function drawEarned(part: PartChain, prior: JointPrior['earned'], random: SeededRandom): void {
  const { young, loss, weight, left, scale } = part;
  let precision = 1 / (prior.sd * scale) ** 2;
  let right = prior.mean * scale * precision;
  for (let at = 0; at < young.length; at++) {
    const p = young[at] as number;
    const own = loss[p] as number;
    const w = weight[p] as number;
    precision += w * own * own;
    // value = effects - earned x loss
    right -= w * own * ((left[p] as number) - part.earned * own);
  }
  const drawn = right / precision + random.normal() / Math.sqrt(precision);
  for (let at = 0; at < young.length; at++) {
    const p = young[at] as number;
    left[p] = (left[p] as number) + (drawn - part.earned) * (loss[p] as number);
  }
  part.earned = drawn;
}

/** What the log density of a part gains by another pace. */
function paceGain(part: PartChain, pace: number): number {
  const { young, left, weight, aging, earned, loss, raw, rawVariance } = part;
  const { plateAge, middle } = part.cells;
  const plate = part.plate * part.plate;
  let gain = 0;
  for (let at = 0; at < young.length; at++) {
    const p = young[at] as number;
    const rest = left[p] as number;
    const lost = Math.exp(-(plateAge[p] as number) / pace);
    if (aging === 'earns') {
      const then = rest + earned * (lost - (loss[p] as number));
      gain -= ((weight[p] as number) * (then * then - rest * rest)) / 2;
      continue;
    }
    const grown = 1 - lost;
    const was = 1 - (loss[p] as number);
    const value = (raw[p] as number) + middle;
    const then = rest + value * (1 / Math.sqrt(grown) - 1 / Math.sqrt(was));
    const variance = plate + (rawVariance[p] as number) / grown;
    // The value that is modelled moves with the pace: its density is that of what was seen, by the change of variable.
    gain +=
      (-Math.log(variance) - (then * then) / variance - Math.log(grown)) / 2 -
      (Math.log(weight[p] as number) - rest * rest * (weight[p] as number) - Math.log(was)) / 2;
  }
  return gain;
}
