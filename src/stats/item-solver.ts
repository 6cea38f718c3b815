import { backwardInPlace, choleskyInPlace, forwardInPlace } from './cholesky-in-place.ts';
import type { MixedLayout } from './mixed-layout.ts';
import type { Spreads } from './spreads.ts';

/** The conditional distribution of one item's effects; see `itemSolver`. */
export type ItemSolver = {
  /** Sets the spreads and the weight that each plate mean gets from them. */
  prepare(spreads: Spreads, weights: Float64Array): void;
  /** Log likelihood of an item's plate means (less block and factor effects), the item's own effects integrated out. */
  solve(item: number, rest: Float64Array): number;
  /** After `solve`: mean of the item effect. */
  mean(): number;
  /** After `solve`: draws all effects of the item, returns the item's and puts the sum of all for each plate in `fitted`. */
  draw(normal: () => number, fitted: Float64Array): number;
};

/**
 * One item's part of the mixed model, given the spreads and the block and factor effects.
 *
 * Plate mean = item + item-by-season + tree + plate and observation error. Seasons do not meet one another, so they are
 * eliminated by hand; what remains is a system of 1 + trees unknowns. Unknowns are in units of their own spread, so
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

  function gather(item: number, rest: Float64Array): number {
    system.fill(0, 0, size * size);
    right.fill(0, 0, size);
    diagonal.fill(1, 0, seasons);
    seasonRight.fill(0, 0, seasons);
    seasonRow.fill(0, 0, seasons * size);
    const last = firstPlate[item + 1] as number;
    let likelihood = 0;
    for (let plate = firstPlate[item] as number; plate < last; plate++) {
      const w = weight[plate] as number;
      const r = rest[plate] as number;
      const s = plateSeason[plate] as number;
      const t = 1 + (plateTree[plate] as number);
      likelihood += 0.5 * (Math.log(w) - w * r * r);
      const byItem = w * spread.item;
      const byTree = w * spread.tree;
      const bySeason = w * spread.season;
      system[0] = (system[0] as number) + byItem * spread.item;
      system[t * size] = (system[t * size] as number) + byTree * spread.item;
      system[t * size + t] = (system[t * size + t] as number) + byTree * spread.tree;
      right[0] = (right[0] as number) + byItem * r;
      right[t] = (right[t] as number) + byTree * r;
      diagonal[s] = (diagonal[s] as number) + bySeason * spread.season;
      seasonRight[s] = (seasonRight[s] as number) + bySeason * r;
      seasonRow[s * size] = (seasonRow[s * size] as number) + bySeason * spread.item;
      seasonRow[s * size + t] = (seasonRow[s * size + t] as number) + bySeason * spread.tree;
    }
    for (let k = 0; k < size; k++) system[k * size + k] = (system[k * size + k] as number) + 1;
    return likelihood;
  }

  /** Takes the seasons out of the system; returns what they add to the log likelihood. */
  function eliminateSeasons(): number {
    let added = 0;
    for (let s = 0; s < seasons; s++) {
      const d = diagonal[s] as number;
      const h = seasonRight[s] as number;
      added += 0.5 * ((h * h) / d - Math.log(d));
      for (let row = 0; row < size; row++) {
        const u = (seasonRow[s * size + row] as number) / d;
        if (u === 0) continue;
        right[row] = (right[row] as number) - u * h;
        for (let column = 0; column <= row; column++) {
          const at = row * size + column;
          system[at] = (system[at] as number) - u * (seasonRow[s * size + column] as number);
        }
      }
    }
    return added;
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
      for (let k = 0; k < size; k++) {
        const h = right[k] as number;
        likelihood += 0.5 * h * h - Math.log(system[k * size + k] as number);
      }
      return likelihood;
    },
    mean() {
      effect.set(right);
      backwardInPlace(system, size, effect);
      return (effect[0] as number) * spread.item;
    },
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
      const own = spread.item * (effect[0] as number);
      for (let plate = firstPlate[current] as number; plate < last; plate++) {
        fitted[plate] =
          own +
          spread.season * (seasonEffect[plateSeason[plate] as number] as number) +
          spread.tree * (effect[1 + (plateTree[plate] as number)] as number);
      }
      return own;
    },
  };
}
