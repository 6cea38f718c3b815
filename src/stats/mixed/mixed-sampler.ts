import type { SeededRandom } from '../random/seeded-random.ts';
import { adaptiveWalk } from './adaptive-walk.ts';
import { blockSolver } from './block-solver.ts';
import { itemSolver } from './item-solver.ts';
import { climbAtOnce, climbByCoordinate } from './log-density-peak.ts';
import type { MixedLayout } from './mixed-layout.ts';
import { settledWalk } from './settled-walk.ts';
import { logSpreadPrior, type SharePrior, type Spreads } from './spreads.ts';
import type { Walk } from './walk.ts';

/** The state of the chain after each round; arrays are overwritten by the next. */
export type MixedSampler = {
  /** One round, with so many steps of the walk over the spreads. */
  advance(steps: number): void;
  /** Ends the tuning of the walk over the spreads. */
  freeze(): void;
  /**
   * In place of a long warm-up with tuning: goes to where the spreads are likeliest, and proposes from there. For
   * trials so large that the spreads are nearly settled by the values.
   */
  settle(): void;
  readonly spreads: () => Spreads;
  readonly blockSpread: () => number;
  /** Mean and standard deviation of each item's effect given the spreads, blocks and factors. */
  readonly itemMean: Float64Array;
  readonly itemSd: Float64Array;
  /** Block effects and overall level that the item effects were drawn beside. */
  readonly block: Float64Array;
  readonly level: () => number;
};

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
 * with all item effects integrated out (so that a spread near zero does not stick), then the items' effects.
 *
 * Partially collapsed Gibbs sampling: van Dyk and Park 2008, JASA 103:790-796.
 */
export function mixedSampler(
  layout: MixedLayout,
  { scale, floor, prior }: SpreadAssumptions,
  random: SeededRandom,
): MixedSampler {
  const { items, plates, blocks, plateMean } = layout;
  const isResidualKnown = layout.hasKnownVariance;
  const rest = new Float64Array(plates);
  const fitted = new Float64Array(plates);
  const itemMean = new Float64Array(items);
  const itemSd = new Float64Array(items);
  const itemDrawn = new Float64Array(items);
  // One for the current spreads, one for those that are proposed; they change places when a proposal is taken.
  let solver = itemSolver(layout);
  let proposedSolver = itemSolver(layout);
  const blockEffects = blockSolver(
    layout,
    10 * Math.max(scale, spreadOfPlates(layout)),
    random.normal,
  );
  const names = spreadNames(prior, isResidualKnown);
  const tuned = adaptiveWalk(startingPoint(layout, names, { scale, floor, prior }), random);
  let walk: Walk = tuned;
  let weights = new Float64Array(plates);
  let proposedWeights = new Float64Array(plates);
  const active = [...layout.treesOf.keys()].filter((item) => (layout.treesOf[item] ?? 0) > 0);
  let blockSpread = scale / 2;
  let blockAux = scale * scale;

  const at = (name: keyof Spreads) => names.indexOf(name);
  const places = [at('item'), at('season'), at('tree'), at('plate'), at('residual')] as const;
  const spreadOf = (point: Float64Array, place: number) =>
    place < 0 ? 0 : Math.exp(point[place] as number);

  function spreadsAt(point: Float64Array): Spreads {
    const residual = spreadOf(point, places[4]);
    return {
      item: spreadOf(point, places[0]),
      season: spreadOf(point, places[1]),
      tree: spreadOf(point, places[2]),
      plate: spreadOf(point, places[3]),
      residual: isResidualKnown ? 0 : Math.sqrt(residual * residual + floor * floor),
    };
  }

  function weigh(spreads: Spreads, into: Float64Array): void {
    const plate = spreads.plate * spreads.plate;
    const residual = spreads.residual * spreads.residual;
    const { plateVariance, plateSize } = layout;
    for (let p = 0; p < plates; p++) {
      const known = plateVariance[p] as number;
      into[p] = 1 / (plate + known + residual / (plateSize[p] as number));
    }
  }

  const lowest = Math.log(scale * LEAST_SHARE);

  /** What the spreads at a point add to the log density beside the likelihood of the plate means. */
  function priorAt(point: Float64Array, spreads: Spreads, square: number): number {
    const sum = logSpreadPrior(spreads, prior, scale, !isResidualKnown);
    if (isResidualKnown) return sum;
    // The prior is on the residual itself, the walk on its part above the floor.
    return (
      sum +
      2 * ((point[names.length - 1] as number) - Math.log(spreads.residual)) -
      (layout.observations - plates) * Math.log(spreads.residual) -
      square / (2 * spreads.residual ** 2)
    );
  }

  function proposedDensity(point: Float64Array, square: number): number {
    for (const value of point) if (value < lowest) return Number.NEGATIVE_INFINITY;
    const spreads = spreadsAt(point);
    weigh(spreads, proposedWeights);
    proposedSolver.prepare(spreads, proposedWeights);
    return priorAt(point, spreads, square) + proposedSolver.solve(rest);
  }

  function takeProposed(): void {
    [solver, proposedSolver] = [proposedSolver, solver];
    [weights, proposedWeights] = [proposedWeights, weights];
  }

  function drawEffects(): void {
    for (const item of active) {
      itemMean[item] = solver.mean(item);
      itemSd[item] = solver.sd(item);
      itemDrawn[item] = solver.draw(item, random.normal, fitted);
    }
  }

  function drawBlocks(): void {
    const spreads = spreadsAt(walk.point);
    for (let p = 0; p < plates; p++) rest[p] = (plateMean[p] as number) - (fitted[p] as number);
    blockEffects.draw(rest, weights, spreads.residual ** 2, blockSpread);
    let centre = 0;
    for (const item of active) centre += itemDrawn[item] as number;
    centre /= Math.max(1, active.length);
    // Moves the overall level along the one direction in which the two steps hold each other up.
    const shift = centre + (random.normal() * spreads.item) / Math.sqrt(Math.max(1, active.length));
    blockEffects.column[0] = (blockEffects.column[0] as number) + shift;
    drawBlockSpread();
  }

  /** Half-t with 3 degrees of freedom as a mixture (Wand, Ormerod, Padoan and Fruhwirth 2011, Bayesian Analysis 6:847-900). */
  function drawBlockSpread(): void {
    let square = 0;
    for (let b = 0; b < blocks; b++) square += (blockEffects.block[b] as number) ** 2;
    const variance = (3 / blockAux + square / 2) / random.gamma((3 + blocks) / 2);
    blockAux = (3 / variance + 1 / (scale * scale)) / random.gamma(2);
    blockSpread = Math.max(Math.sqrt(variance), scale * LEAST_SHARE);
  }

  /** Sets the spreads and what depends on them. */
  function standAt(point: Float64Array): void {
    weigh(spreadsAt(point), weights);
    solver.prepare(spreadsAt(point), weights);
  }

  function settle(): void {
    const point = Float64Array.from(walk.point);
    let factor: Float64Array = new Float64Array(0);
    let gain = Number.POSITIVE_INFINITY;
    for (let left = SETTLING_ROUNDS; left > 0; left--) {
      drawBlocks();
      blockEffects.subtract(rest);
      const square = blockEffects.withinSquare();
      const density = (tried: Float64Array) => proposedDensity(tried, square);
      // The last two steps are of all spreads at once; there is no need to come closer than they reach.
      if (left > 2 && gain > CLOSE) gain = climbByCoordinate(density, point);
      else {
        left = Math.min(left, 2);
        factor = climbAtOnce(density, point);
      }
      walk = settledWalk(point, factor, random);
      standAt(point);
      solver.solve(rest);
      drawEffects();
    }
  }

  function drawItems(steps: number): void {
    blockEffects.subtract(rest);
    const square = blockEffects.withinSquare();
    let current = priorAt(walk.point, spreadsAt(walk.point), square) + solver.solve(rest);
    // While the walk is the tuned one, most single proposals are turned down: the effects are drawn along.
    let isMoved = steps > 1 || walk !== tuned;
    if (!isMoved) drawEffects();
    for (let step = 0; step < steps; step++) {
      if (!walk.step(current, (point) => proposedDensity(point, square))) continue;
      takeProposed();
      current = walk.density();
      isMoved = true;
    }
    if (isMoved) drawEffects();
  }

  standAt(walk.point);
  return {
    advance(steps) {
      drawBlocks();
      drawItems(steps);
    },
    freeze: tuned.freeze,
    settle,
    spreads: () => spreadsAt(walk.point),
    blockSpread: () => blockSpread,
    itemMean,
    itemSd,
    block: blockEffects.block,
    level: () => blockEffects.column[0] as number,
  };
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
