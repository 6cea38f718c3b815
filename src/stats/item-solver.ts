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
  const treeSum = new Float64Array(most);
  const treeRight = new Float64Array(most);
  const seasonEffect = new Float64Array(mostSeasons);
  let spread: Spreads = { item: 0, season: 0, tree: 0, plate: 0, residual: 0 };
  let weight: Float64Array = new Float64Array(0);
  let [current, size, seasons] = [0, 0, 0];

  /** Sums of weights and of weighted rests by season and tree, in units of the values; what needs no sums is returned. */
  function gather(item: number, rest: Float64Array): number {
    // In names of their own: the engine reads these faster than those of the function around.
    const [weights, seasonOf, treeOf] = [weight, plateSeason, plateTree];
    const [cells, rights, rowSums, columnSums, columnRights] = [
      seasonRow,
      seasonRight,
      diagonal,
      treeSum,
      treeRight,
    ];
    const across = size;
    // Loops, not fill(): for a few entries a call costs more than the work.
    for (let at = 0; at < seasons * across; at++) cells[at] = 0;
    for (let s = 0; s < seasons; s++) {
      rights[s] = 0;
      rowSums[s] = 0;
    }
    for (let t = 0; t < across; t++) {
      columnSums[t] = 0;
      columnRights[t] = 0;
    }
    const last = firstPlate[item + 1] as number;
    let square = 0;
    let product = 1;
    let logs = 0;
    for (let plate = firstPlate[item] as number; plate < last; plate++) {
      const w = weights[plate] as number;
      const r = rest[plate] as number;
      const s = seasonOf[plate] as number;
      const t = treeOf[plate] as number;
      const wr = w * r;
      square += wr * r;
      product *= w;
      if (product > MANY || product < FEW) {
        logs += Math.log(product);
        product = 1;
      }
      const cell = s * across + t;
      cells[cell] = (cells[cell] as number) + w;
      rowSums[s] = (rowSums[s] as number) + w;
      columnSums[t] = (columnSums[t] as number) + w;
      rights[s] = (rights[s] as number) + wr;
      columnRights[t] = (columnRights[t] as number) + wr;
    }
    return 0.5 * (logs + Math.log(product) - square);
  }

  /** Trees and the item, before the seasons are taken out, in units of their own spreads. */
  function setUp(): void {
    const { item: byItem, tree: byTree } = spread;
    const trees = size - 1;
    const own = trees * size;
    for (let at = 0; at < own; at++) system[at] = 0;
    let whole = 0;
    let wholeRight = 0;
    for (let t = 0; t < trees; t++) {
      const w = treeSum[t] as number;
      whole += w;
      wholeRight += treeRight[t] as number;
      system[t * size + t] = 1 + w * byTree * byTree;
      system[own + t] = w * byTree * byItem;
      right[t] = (treeRight[t] as number) * byTree;
    }
    system[own + trees] = 1 + whole * byItem * byItem;
    right[trees] = wholeRight * byItem;
  }

  /** Takes the seasons out of the system; returns what they add to the log likelihood. */
  function eliminateSeasons(): number {
    const { item: byItem, season: bySeason, tree: byTree } = spread;
    const [matrix, b, cells] = [system, right, seasonRow];
    const across = size;
    const trees = across - 1;
    const byCell = bySeason * byTree;
    let square = 0;
    let product = 1;
    let logs = 0;
    for (let s = 0; s < seasons; s++) {
      const w = diagonal[s] as number;
      const d = 1 + w * bySeason * bySeason;
      const h = (seasonRight[s] as number) * bySeason;
      diagonal[s] = d;
      seasonRight[s] = h;
      square += (h * h) / d;
      product *= d;
      if (product > MANY) {
        logs += Math.log(product);
        product = 1;
      }
      const first = s * across;
      for (let t = 0; t < trees; t++) cells[first + t] = (cells[first + t] as number) * byCell;
      cells[first + trees] = w * bySeason * byItem;
      for (let row = 0; row < across; row++) {
        const own = cells[first + row] as number;
        if (own === 0) continue;
        const u = own / d;
        b[row] = (b[row] as number) - u * h;
        const start = row * across;
        for (let column = 0; column <= row; column++) {
          matrix[start + column] =
            (matrix[start + column] as number) - u * (cells[first + column] as number);
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
      let likelihood = gather(item, rest);
      setUp();
      likelihood += eliminateSeasons();
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
      const { season: bySeason, tree: byTree } = spread;
      const [seasonOf, treeOf, ofSeason, ofTree] = [plateSeason, plateTree, seasonEffect, effect];
      for (let plate = firstPlate[current] as number; plate < last; plate++) {
        fitted[plate] =
          own +
          bySeason * (ofSeason[seasonOf[plate] as number] as number) +
          byTree * (ofTree[treeOf[plate] as number] as number);
      }
      return own;
    },
  };
}
