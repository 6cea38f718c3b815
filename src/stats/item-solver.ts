import { backwardInPlace, choleskyInPlace, forwardInPlace } from './cholesky-in-place.ts';
import type { MixedLayout } from './mixed-layout.ts';
import type { Spreads } from './spreads.ts';

/** The conditional distribution of one item's effects; see `itemSolver`. */
export type ItemSolver = {
  /** Sets the spreads and the weight that each plate mean gets from them. */
  prepare(spreads: Spreads, weights: Float64Array): void;
  /** Log likelihood of an item's plate means (less block and factor effects), the item's own effects integrated out. */
  solve(item: number, rest: Float64Array): number;
  /** After `solve`: mean and standard deviation of the item effect. */
  mean(): number;
  sd(): number;
  /** After `solve`: draws all effects of the item, returns the item's and puts the sum of all for each plate in `fitted`. */
  draw(normal: () => number, fitted: Float64Array): number;
};

// Logarithms of products cost less than sums of logarithms, as long as the products stay in range.
const MANY = 1e100;
const FEW = 1e-100;

/**
 * One item's part of the mixed model, given the spreads and the block and factor effects.
 *
 * Plate mean = item + item-by-season + tree + plate and observation error. Seasons do not meet one another, so they are
 * eliminated by hand; what remains is a system of the trees and, last, the item. Unknowns are in units of their own spread, so
 * that a spread of zero does no harm. Formulae: Searle, Casella and McCulloch 1992, Variance Components, ch. 7.
 */
export function itemSolver(layout: MixedLayout): ItemSolver {
  const { firstPlate, plateSeason, plateTree } = layout;
  const most = 1 + layout.treesOf.reduce((greatest, count) => Math.max(greatest, count), 0);
  const mostSeasons = layout.seasonsOf.reduce((greatest, count) => Math.max(greatest, count), 0);
  const system = new Float64Array(most * most);
  const right = new Float64Array(most);
  const effect = new Float64Array(most);
  const diagonal = new Float64Array(mostSeasons);
  const seasonRight = new Float64Array(mostSeasons);
  const seasonRow = new Float64Array(mostSeasons * most);
  const seasonEffect = new Float64Array(mostSeasons);
  let spread: Spreads = { item: 0, season: 0, tree: 0, plate: 0, residual: 0 };
  let weight: Float64Array = new Float64Array(0);
  let [current, size, seasons] = [0, 0, 0];

  function clear(): void {
    // Loops, not fill(): for a few entries a call costs more than the work.
    for (let at = 0; at < size * size; at++) system[at] = 0;
    for (let k = 0; k < size; k++) {
      system[k * size + k] = 1;
      right[k] = 0;
    }
    for (let s = 0; s < seasons; s++) {
      diagonal[s] = 1;
      seasonRight[s] = 0;
    }
    for (let at = 0; at < seasons * size; at++) seasonRow[at] = 0;
  }

  function gather(item: number, rest: Float64Array): number {
    clear();
    const { item: byItem, season: bySeason, tree: byTree } = spread;
    const own = (size - 1) * size;
    const last = firstPlate[item + 1] as number;
    let square = 0;
    let product = 1;
    let logs = 0;
    let whole = 0;
    let wholeRight = 0;
    for (let plate = firstPlate[item] as number; plate < last; plate++) {
      const w = weight[plate] as number;
      const r = rest[plate] as number;
      const s = plateSeason[plate] as number;
      const t = plateTree[plate] as number;
      const wr = w * r;
      square += wr * r;
      product *= w;
      if (product > MANY || product < FEW) {
        logs += Math.log(product);
        product = 1;
      }
      whole += w;
      wholeRight += wr;
      const wTree = w * byTree;
      const wSeason = w * bySeason;
      system[own + t] = (system[own + t] as number) + wTree * byItem;
      system[t * size + t] = (system[t * size + t] as number) + wTree * byTree;
      right[t] = (right[t] as number) + wr * byTree;
      diagonal[s] = (diagonal[s] as number) + wSeason * bySeason;
      seasonRight[s] = (seasonRight[s] as number) + wr * bySeason;
      const row = s * size;
      seasonRow[row + t] = (seasonRow[row + t] as number) + wSeason * byTree;
      seasonRow[row + size - 1] = (seasonRow[row + size - 1] as number) + wSeason * byItem;
    }
    system[own + size - 1] = 1 + whole * byItem * byItem;
    right[size - 1] = wholeRight * byItem;
    return 0.5 * (logs + Math.log(product) - square);
  }

  /** Takes the seasons out of the system; returns what they add to the log likelihood. */
  function eliminateSeasons(): number {
    let square = 0;
    let product = 1;
    let logs = 0;
    for (let s = 0; s < seasons; s++) {
      const d = diagonal[s] as number;
      const h = seasonRight[s] as number;
      square += (h * h) / d;
      product *= d;
      if (product > MANY) {
        logs += Math.log(product);
        product = 1;
      }
      const first = s * size;
      for (let row = 0; row < size; row++) {
        const u = (seasonRow[first + row] as number) / d;
        if (u === 0) continue;
        right[row] = (right[row] as number) - u * h;
        for (let column = 0; column <= row; column++) {
          const at = row * size + column;
          system[at] = (system[at] as number) - u * (seasonRow[first + column] as number);
        }
      }
    }
    return 0.5 * (square - logs - Math.log(product));
  }

  return {
    prepare(spreads, weights) {
      spread = spreads;
      weight = weights;
    },
    solve(item, rest) {
      current = item;
      size = 1 + (layout.treesOf[item] as number);
      seasons = layout.seasonsOf[item] as number;
      let likelihood = gather(item, rest) + eliminateSeasons();
      choleskyInPlace(system, size);
      forwardInPlace(system, size, right);
      let product = 1;
      for (let k = 0; k < size; k++) {
        const h = right[k] as number;
        likelihood += 0.5 * h * h;
        product *= system[k * size + k] as number;
      }
      return likelihood - Math.log(product);
    },
    mean: () => (spread.item * (right[size - 1] as number)) / (system[size * size - 1] as number),
    sd: () => spread.item / (system[size * size - 1] as number),
    draw(normal, fitted) {
      for (let k = 0; k < size; k++) effect[k] = (right[k] as number) + normal();
      backwardInPlace(system, size, effect);
      for (let s = 0; s < seasons; s++) {
        const d = diagonal[s] as number;
        let h = seasonRight[s] as number;
        for (let k = 0; k < size; k++)
          h -= (seasonRow[s * size + k] as number) * (effect[k] as number);
        seasonEffect[s] = h / d + normal() / Math.sqrt(d);
      }
      const last = firstPlate[current + 1] as number;
      const own = spread.item * (effect[size - 1] as number);
      for (let plate = firstPlate[current] as number; plate < last; plate++) {
        fitted[plate] =
          own +
          spread.season * (seasonEffect[plateSeason[plate] as number] as number) +
          spread.tree * (effect[plateTree[plate] as number] as number);
      }
      return own;
    },
  };
}
