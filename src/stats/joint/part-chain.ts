import type { SeededRandom } from '../random/seeded-random.ts';
import { BlockSolver } from './block-solver.ts';
import type { JointPart } from './joint-trial.ts';
import { LatentScores } from './latent-scores.ts';
import type { PartCells } from './part-cells.ts';

/** Spreads below this share of the typical one are zero for every purpose. */
export const LEAST_SHARE = 1e-4;

/**
 * What a chain keeps of one part: levels and blocks, the spread of its plates and within them, the spread of blocks,
 * and what is left of each plate once these are taken off.
 */
export class PartChain {
  readonly cells: PartCells;
  readonly levels: BlockSolver;
  readonly scale: number;
  /** Least spread between observations of a plate, from rounding. */
  readonly floor: number;
  readonly aging: JointPart['aging'];
  /** By plate: where its spot stands. */
  readonly spot: Int32Array;
  /** By plate: value before age is allowed for, and its known variance. */
  readonly raw: Float64Array;
  readonly rawVariance: Float64Array;
  /** By plate: 1 / variance of its mean, given its effects. */
  readonly weight: Float64Array;
  /** By plate: mean less levels, blocks and what age takes. */
  readonly rest: Float64Array;
  /** By plate: what else its effects take off. */
  readonly left: Float64Array;
  /** By plate: exp(-age / pace), 0 for grown trees. */
  readonly loss: Float64Array;
  /** Plates of trees that are not grown. */
  readonly young: Int32Array;
  /** Precision of the prior of levels. */
  readonly wide: number;
  /** Absent where nobody only put plates in order. */
  readonly latent: LatentScores | undefined;
  plate: number;
  /** Of the residual spread what is above the floor; 0 where variances are known. */
  ownResidual: number;
  blockSpread: number;
  /** What a tree of age 0 lacks. */
  earned = 0;
  withinSquare: number;
  #blockAux: number;

  /** @param levels see `JointPrior` */
  constructor(part: JointPart, cells: PartCells, spot: Int32Array, levels: number) {
    const { plates, plateMean, plateVariance, plateAge } = cells;
    const spread = spreadOf(plateMean);
    const wide = levels * Math.max(part.scale, spread);
    this.cells = cells;
    this.levels = new BlockSolver(cells, wide);
    this.wide = 1 / (wide * wide);
    this.scale = part.scale;
    this.floor = (part.resolution ?? 0) / Math.sqrt(12);
    this.aging = part.aging;
    this.spot = spot;
    this.raw = Float64Array.from(plateMean);
    this.rawVariance = Float64Array.from(plateVariance);
    this.weight = new Float64Array(plates);
    this.rest = new Float64Array(plates);
    this.left = new Float64Array(plates);
    this.loss = new Float64Array(plates);
    this.young = Int32Array.from(
      part.aging === undefined
        ? []
        : [...plateAge.keys()].filter((plate) => Number.isFinite(plateAge[plate])),
    );
    this.withinSquare = cells.withinSquare;
    const freedom = cells.observations - plates;
    const within = freedom > 0 ? cells.withinSquare / freedom : part.scale ** 2 / 4;
    const least = part.scale / 20;
    this.plate = Math.max(spread / 2, least);
    this.ownResidual = cells.hasKnownVariance ? 0 : Math.max(Math.sqrt(within), least);
    this.blockSpread = part.scale / 2;
    this.#blockAux = 1 / part.scale ** 2;
    this.latent = part.orders?.length ? new LatentScores(part, cells) : undefined;
    this.weigh();
  }

  get residual(): number {
    return this.residualOf(this.ownResidual);
  }

  residualOf(own: number): number {
    if (this.cells.hasKnownVariance) return 0;
    return Math.sqrt(own * own + this.floor * this.floor);
  }

  /** Sets the weights by the spreads as they are. */
  weigh(): void {
    const { plateVariance, plateSize } = this.cells;
    const [plate, residual] = [this.plate ** 2, this.residual ** 2];
    for (let p = 0; p < this.weight.length; p++) {
      this.weight[p] =
        1 / (plate + (plateVariance[p] as number) + residual / (plateSize[p] as number));
    }
  }

  /** Draws levels, blocks and the spread of blocks given the effects of spots, and takes them off. */
  drawLevels(fit: Float64Array, parts: number, part: number, random: SeededRandom): void {
    const { plateMean } = this.cells;
    const { rest, spot, loss, earned } = this;
    for (let p = 0; p < rest.length; p++) {
      rest[p] =
        (plateMean[p] as number) +
        earned * (loss[p] as number) -
        (fit[(spot[p] as number) * parts + part] as number);
    }
    this.levels.draw(rest, this.weight, this.residual ** 2, this.blockSpread, random);
    this.#drawBlockSpread(random);
    this.takeLevels();
    this.withinSquare = this.levels.withinSquare();
  }

  /** Puts into `rest` what levels, blocks and age leave. */
  takeLevels(): void {
    const { rest, young, loss, earned } = this;
    this.levels.subtract(rest);
    if (this.aging !== 'earns') return;
    for (let at = 0; at < young.length; at++) {
      const p = young[at] as number;
      rest[p] = (rest[p] as number) + earned * (loss[p] as number);
    }
  }

  /** Puts into `left` what the effects of spots leave too. */
  takeEffects(fit: Float64Array, parts: number, part: number): void {
    const { rest, left, spot } = this;
    for (let p = 0; p < left.length; p++) {
      left[p] = (rest[p] as number) - (fit[(spot[p] as number) * parts + part] as number);
    }
  }

  /** Values, variances and losses as a pace of growing up has them. */
  ageBy(pace: number): void {
    const { plateAge, plateMean, plateVariance, middle } = this.cells;
    const { young, loss, raw, rawVariance } = this;
    for (let at = 0; at < young.length; at++) {
      const p = young[at] as number;
      const own = Math.exp(-(plateAge[p] as number) / pace);
      loss[p] = own;
      if (this.aging === 'earns') continue;
      const grown = 1 - own;
      plateMean[p] = ((raw[p] as number) + middle) / Math.sqrt(grown) - middle;
      plateVariance[p] = (rawVariance[p] as number) / grown;
    }
  }

  /** Half-t with 3 degrees of freedom as a mixture (Wand, Ormerod, Padoan and Fruhwirth 2011, Bayesian Analysis 6:847-900). */
  #drawBlockSpread(random: SeededRandom): void {
    const { scale } = this;
    const { block } = this.levels;
    let square = 0;
    for (let b = 0; b < block.length; b++) square += (block[b] as number) ** 2;
    const gamma = random.gamma((3 + block.length) / 2);
    const variance = (3 / this.#blockAux + square / 2) / gamma;
    this.#blockAux = (3 / variance + 1 / (scale * scale)) / random.gamma(2);
    this.blockSpread = Math.max(Math.sqrt(variance), scale * LEAST_SHARE);
  }
}

function spreadOf(values: Float64Array): number {
  let [sum, square] = [0, 0];
  for (let at = 0; at < values.length; at++) sum += values[at] as number;
  const middle = sum / Math.max(1, values.length);
  for (let at = 0; at < values.length; at++) square += ((values[at] as number) - middle) ** 2;
  return Math.sqrt(square / Math.max(1, values.length));
}
