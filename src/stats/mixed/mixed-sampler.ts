import type { SeededRandom } from '../random/seeded-random.ts';
import { type AdaptiveWalk, adaptiveWalk } from './adaptive-walk.ts';
import { BlockSolver } from './block-solver.ts';
import { ItemSolver } from './item-solver.ts';
import { climbAtOnce, climbByCoordinate } from './log-density-peak.ts';
import type { MixedLayout } from './mixed-layout.ts';
import { SettledWalk } from './settled-walk.ts';
import { logSpreadPrior, type SharePrior, type Spreads } from './spreads.ts';
import type { Walk } from './walk.ts';

/** What is taken as known of the spreads before looking. */
export type SpreadAssumptions = {
  /** Scale of the weak priors, in the unit of the values. */
  readonly scale: number;
  /** Least spread between observations of a plate, from rounding. */
  readonly floor: number;
  readonly prior: SharePrior;
};

/** Spreads below this share of the typical one are zero for every purpose. */
const LEAST_SHARE = 1e-6;
const SETTLING_ROUNDS = 6;
/** A gain of log density that says the peak is near. */
const CLOSE = 2;

/**
 * Gibbs sampler of the mixed model: blocks and factors given the items, then the spreads given blocks and factors
 * with all item effects integrated out (so that a spread near zero does not stick), then the items' effects. Its state
 * is that of the chain after each round; arrays are overwritten by the next.
 *
 * Partially collapsed Gibbs sampling: van Dyk and Park 2008, JASA 103:790-796.
 */
export class MixedSampler {
  /** Mean and standard deviation of each item's effect given the spreads, blocks and factors. */
  readonly itemMean: Float64Array;
  readonly itemSd: Float64Array;
  readonly #layout: MixedLayout;
  readonly #assumed: SpreadAssumptions;
  readonly #random: SeededRandom;
  /** Items with plates. */
  readonly #active: Int32Array;
  readonly #itemDrawn: Float64Array;
  /** Plate means less what is known of the items, or of blocks and factors. */
  readonly #rest: Float64Array;
  /** Sum of all effects of its item for each plate, as drawn. */
  readonly #fitted: Float64Array;
  readonly #blockEffects: BlockSolver;
  /** Where in a point of the walk each spread stands; -1 for one that is left out. */
  readonly #places: readonly [
    item: number,
    season: number,
    tree: number,
    plate: number,
    residual: number,
  ];
  readonly #lowest: number;
  readonly #tuned: AdaptiveWalk;
  /** Density of a proposal in the current round. */
  readonly #density: (point: Float64Array) => number;
  #withinSquare = 0;
  #walk: Walk;
  // One for the current spreads, one for those that are proposed; they change places when a proposal is taken.
  #solver: ItemSolver;
  #proposedSolver: ItemSolver;
  #weights: Float64Array;
  #proposedWeights: Float64Array;
  #blockSpread: number;
  #blockAux: number;

  constructor(layout: MixedLayout, assumed: SpreadAssumptions, random: SeededRandom) {
    const { items, plates, treesOf } = layout;
    const { scale, prior } = assumed;
    this.itemMean = new Float64Array(items);
    this.itemSd = new Float64Array(items);
    this.#layout = layout;
    this.#assumed = assumed;
    this.#random = random;
    this.#active = Int32Array.from(
      [...treesOf.keys()].filter((item) => (treesOf[item] as number) > 0),
    );
    this.#itemDrawn = new Float64Array(items);
    this.#rest = new Float64Array(plates);
    this.#fitted = new Float64Array(plates);
    this.#blockEffects = new BlockSolver(layout, 10 * Math.max(scale, spreadOfPlates(layout)));
    const names = spreadNames(prior, layout.hasKnownVariance);
    const at = (name: keyof Spreads) => names.indexOf(name);
    this.#places = [at('item'), at('season'), at('tree'), at('plate'), at('residual')];
    this.#lowest = Math.log(scale * LEAST_SHARE);
    this.#tuned = adaptiveWalk(startingPoint(layout, names, assumed), random);
    this.#density = (point) => this.#proposedDensity(point);
    this.#walk = this.#tuned;
    this.#solver = new ItemSolver(layout);
    this.#proposedSolver = new ItemSolver(layout);
    this.#weights = new Float64Array(plates);
    this.#proposedWeights = new Float64Array(plates);
    this.#blockSpread = scale / 2;
    this.#blockAux = scale * scale;
    this.#standAt(this.#walk.point);
  }

  /** One round, with so many steps of the walk over the spreads. */
  advance(steps: number): void {
    this.#drawBlocks();
    this.#drawItems(steps);
  }

  /** Ends the tuning of the walk over the spreads. */
  freeze(): void {
    this.#tuned.freeze();
  }

  /**
   * In place of a long warm-up with tuning: goes to where the spreads are likeliest, and proposes from there. For
   * trials so large that the spreads are nearly settled by the values.
   */
  settle(): void {
    const point = Float64Array.from(this.#walk.point);
    let factor: Float64Array = new Float64Array(0);
    let gain = Number.POSITIVE_INFINITY;
    for (let left = SETTLING_ROUNDS; left > 0; left--) {
      this.#drawBlocks();
      this.#takeBlocks();
      // The last two steps are of all spreads at once; there is no need to come closer than they reach.
      if (left > 2 && gain > CLOSE) gain = climbByCoordinate(this.#density, point);
      else {
        left = Math.min(left, 2);
        factor = climbAtOnce(this.#density, point);
      }
      this.#walk = new SettledWalk(point, factor, this.#random);
      this.#standAt(point);
      this.#solver.solve(this.#rest);
      this.#drawEffects();
    }
  }

  spreads(): Spreads {
    return this.#spreadsAt(this.#walk.point);
  }

  blockSpread(): number {
    return this.#blockSpread;
  }

  /** Block effects and overall level that the item effects were drawn beside. */
  get block(): Float64Array {
    return this.#blockEffects.block;
  }

  level(): number {
    return this.#blockEffects.column[0] as number;
  }

  #spreadsAt(point: Float64Array): Spreads {
    const [item, season, tree, plate, residual] = this.#places;
    const { floor } = this.#assumed;
    return {
      item: spreadOf(point, item),
      season: spreadOf(point, season),
      tree: spreadOf(point, tree),
      plate: spreadOf(point, plate),
      residual: this.#layout.hasKnownVariance ? 0 : rootOfSquares(spreadOf(point, residual), floor),
    };
  }

  #weigh(spreads: Spreads, into: Float64Array): void {
    const plate = spreads.plate * spreads.plate;
    const residual = spreads.residual * spreads.residual;
    const { plateVariance, plateSize } = this.#layout;
    for (let p = 0; p < into.length; p++) {
      const known = plateVariance[p] as number;
      into[p] = 1 / (plate + known + residual / (plateSize[p] as number));
    }
  }

  /** What the spreads at a point add to the log density beside the likelihood of the plate means. */
  #priorAt(point: Float64Array, spreads: Spreads): number {
    const { prior, scale } = this.#assumed;
    const { hasKnownVariance, observations, plates } = this.#layout;
    const sum = logSpreadPrior(spreads, prior, scale, !hasKnownVariance);
    if (hasKnownVariance) return sum;
    // The prior is on the residual itself, the walk on its part above the floor.
    return (
      sum +
      2 * ((point[point.length - 1] as number) - Math.log(spreads.residual)) -
      (observations - plates) * Math.log(spreads.residual) -
      this.#withinSquare / (2 * spreads.residual ** 2)
    );
  }

  #proposedDensity(point: Float64Array): number {
    for (let k = 0; k < point.length; k++) {
      if ((point[k] as number) < this.#lowest) return Number.NEGATIVE_INFINITY;
    }
    const spreads = this.#spreadsAt(point);
    this.#weigh(spreads, this.#proposedWeights);
    this.#proposedSolver.prepare(spreads, this.#proposedWeights);
    return this.#priorAt(point, spreads) + this.#proposedSolver.solve(this.#rest);
  }

  #takeProposed(): void {
    [this.#solver, this.#proposedSolver] = [this.#proposedSolver, this.#solver];
    [this.#weights, this.#proposedWeights] = [this.#proposedWeights, this.#weights];
  }

  /** Takes the drawn blocks and factors as known. */
  #takeBlocks(): void {
    this.#blockEffects.subtract(this.#rest);
    this.#withinSquare = this.#blockEffects.withinSquare();
  }

  #drawEffects(): void {
    const solver = this.#solver;
    for (let k = 0; k < this.#active.length; k++) {
      const item = this.#active[k] as number;
      this.itemMean[item] = solver.mean(item);
      this.itemSd[item] = solver.sd(item);
      this.#itemDrawn[item] = solver.draw(item, this.#random, this.#fitted);
    }
  }

  #drawBlocks(): void {
    const { plateMean } = this.#layout;
    const [rest, fitted, random] = [this.#rest, this.#fitted, this.#random];
    const spreads = this.spreads();
    for (let p = 0; p < rest.length; p++) {
      rest[p] = (plateMean[p] as number) - (fitted[p] as number);
    }
    const { column } = this.#blockEffects;
    this.#blockEffects.draw(rest, this.#weights, spreads.residual ** 2, this.#blockSpread, random);
    let centre = 0;
    for (let k = 0; k < this.#active.length; k++) {
      centre += this.#itemDrawn[this.#active[k] as number] as number;
    }
    const count = Math.max(1, this.#active.length);
    // Moves the overall level along the one direction in which the two steps hold each other up.
    const shift = centre / count + (random.normal() * spreads.item) / Math.sqrt(count);
    column[0] = (column[0] as number) + shift;
    this.#drawBlockSpread();
  }

  /** Half-t with 3 degrees of freedom as a mixture (Wand, Ormerod, Padoan and Fruhwirth 2011, Bayesian Analysis 6:847-900). */
  #drawBlockSpread(): void {
    const { scale } = this.#assumed;
    const { block } = this.#blockEffects;
    let square = 0;
    for (let b = 0; b < block.length; b++) square += (block[b] as number) ** 2;
    const gamma = this.#random.gamma((3 + block.length) / 2);
    const variance = (3 / this.#blockAux + square / 2) / gamma;
    this.#blockAux = (3 / variance + 1 / (scale * scale)) / this.#random.gamma(2);
    this.#blockSpread = Math.max(Math.sqrt(variance), scale * LEAST_SHARE);
  }

  /** Sets the spreads and what depends on them. */
  #standAt(point: Float64Array): void {
    const spreads = this.#spreadsAt(point);
    this.#weigh(spreads, this.#weights);
    this.#solver.prepare(spreads, this.#weights);
  }

  #drawItems(steps: number): void {
    this.#takeBlocks();
    const walk = this.#walk;
    let current = this.#priorAt(walk.point, this.spreads()) + this.#solver.solve(this.#rest);
    // While the walk is the tuned one, most single proposals are turned down: the effects are drawn along.
    let isMoved = steps > 1 || walk !== this.#tuned;
    if (!isMoved) this.#drawEffects();
    for (let step = 0; step < steps; step++) {
      if (!walk.step(current, this.#density)) continue;
      this.#takeProposed();
      current = walk.density();
      isMoved = true;
    }
    if (isMoved) this.#drawEffects();
  }
}

function spreadOf(point: Float64Array, place: number): number {
  return place < 0 ? 0 : Math.exp(point[place] as number);
}

function rootOfSquares(a: number, b: number): number {
  return Math.sqrt(a * a + b * b);
}

function spreadNames(prior: SharePrior, isResidualKnown: boolean): (keyof Spreads)[] {
  const shares = (['item', 'season', 'tree', 'plate'] as const).filter((name) => prior[name] > 0);
  return isResidualKnown ? shares : [...shares, 'residual'];
}

/** Starts from the variance within plates and that of plate means, the latter split as the prior has it. */
function startingPoint(
  layout: MixedLayout,
  names: readonly (keyof Spreads)[],
  { scale, prior }: SpreadAssumptions,
): number[] {
  const least = (scale / 20) ** 2;
  const freedom = layout.observations - layout.plates;
  const within = freedom > 0 ? layout.withinSquare / freedom : scale ** 2 / 4;
  const size = layout.observations / Math.max(1, layout.plates);
  const between = spreadOfPlates(layout) ** 2 - (layout.hasKnownVariance ? 0 : within / size);
  const shares = prior.item + prior.season + prior.tree + prior.plate;
  return names.map((name) => {
    const part = name === 'residual' ? within : (between * prior[name]) / shares;
    return Math.log(Math.max(part, least)) / 2;
  });
}

function spreadOfPlates({ plateMean }: MixedLayout): number {
  const count = Math.max(1, plateMean.length);
  const centre = plateMean.reduce((sum, value) => sum + value, 0) / count;
  return Math.sqrt(plateMean.reduce((sum, value) => sum + (value - centre) ** 2, 0) / count);
}
