import { backwardInPlace, choleskyInPlace, forwardInPlace } from '../numbers/cholesky-in-place.ts';
import { type ItemPlaces, itemPlaces } from './item-places.ts';
import type { MixedLayout } from './mixed-layout.ts';
import type { Spreads } from './spreads.ts';

/** The conditional distribution of the effects of all items; see `itemSolver`. */
export type ItemSolver = {
  /** Sets the spreads and the weight that each plate mean gets from them; the weights must then stay as they are. */
  prepare(spreads: Spreads, weights: Float64Array): void;
  /** Log likelihood of all plate means (less block and factor effects), the items' own effects integrated out. */
  solve(rest: Float64Array): number;
  /** After `solve`: mean and standard deviation of an item's effect. */
  mean(item: number): number;
  sd(item: number): number;
  /** After `solve`: draws all effects of an item, returns the item's and puts the sum of all for each plate in `fitted`. */
  draw(item: number, normal: () => number, fitted: Float64Array): number;
};

// Logarithms of products cost less than sums of logarithms, as long as the products stay in range.
const MANY = 1e100;
const FEW = 1e-100;

/**
 * The items' part of the mixed model, given the spreads and the block and factor effects. No two items meet, so each
 * is solved by itself.
 *
 * Plate mean = item + item-by-season + tree + plate and observation error. Seasons do not meet one another, so they are
 * eliminated by hand; what remains is a system of the trees and, last, the item. Unknowns are in units of their own spread, so
 * that a spread of zero does no harm. Formulae: Searle, Casella and McCulloch 1992, Variance Components, ch. 7.
 *
 * What depends on the spreads alone is kept from `prepare` on, since plate means change more often than spreads.
 */
export function itemSolver(layout: MixedLayout): ItemSolver {
  const { firstPlate, plateSeason, plateTree, treesOf, seasonsOf } = layout;
  const at: ItemPlaces = itemPlaces(layout);
  const active = Int32Array.from([...treesOf.keys()].filter((item) => (treesOf[item] ?? 0) > 0));
  /** By item: Cholesky factor of the system of its trees and, last, the item. */
  const factors = new Float64Array(at.systems);
  const right = new Float64Array(at.unknowns);
  /** By item and season: the pivot, and the row that ties the season to trees and item. */
  const pivot = new Float64Array(at.seasons);
  const seasonRight = new Float64Array(at.seasons);
  const seasonRow = new Float64Array(at.rows);
  const system = new Float64Array(at.most * at.most);
  const own = new Float64Array(at.most);
  const effect = new Float64Array(at.most);
  const treeSum = new Float64Array(at.most);
  const seasonEffect = new Float64Array(at.mostSeasons);
  let spread: Spreads = { item: 0, season: 0, tree: 0, plate: 0, residual: 0 };
  let weight: Float64Array = new Float64Array(0);
  let logRoots = 0;

  /** Sums weights by season and tree; returns the logarithm of their product. */
  function addUpWeights(item: number): number {
    // In names of their own: the engine reads these faster than those of the function around.
    const [weights, seasonOf, treeOf] = [weight, plateSeason, plateTree];
    const [cells, bySeason, byTree] = [seasonRow, pivot, treeSum];
    const size = 1 + (treesOf[item] as number);
    const [seasons, row, season] = [seasonsOf[item] as number, at.row(item), at.season(item)];
    // Loops, not fill(): for a few entries a call costs more than the work.
    for (let cell = row; cell < row + seasons * size; cell++) cells[cell] = 0;
    for (let s = season; s < season + seasons; s++) bySeason[s] = 0;
    for (let t = 0; t < size; t++) byTree[t] = 0;
    const last = firstPlate[item + 1] as number;
    let [product, logs] = [1, 0];
    for (let plate = firstPlate[item] as number; plate < last; plate++) {
      const w = weights[plate] as number;
      const s = seasonOf[plate] as number;
      const t = treeOf[plate] as number;
      product *= w;
      if (product > MANY || product < FEW) {
        logs += Math.log(product);
        product = 1;
      }
      const cell = row + s * size + t;
      cells[cell] = (cells[cell] as number) + w;
      bySeason[season + s] = (bySeason[season + s] as number) + w;
      byTree[t] = (byTree[t] as number) + w;
    }
    return logs + Math.log(product);
  }

  /** Trees and the item, before the seasons are taken out. */
  function setUp(trees: number): void {
    const { item: byItem, tree: byTree } = spread;
    const size = trees + 1;
    for (let cell = 0; cell < trees * size; cell++) system[cell] = 0;
    let whole = 0;
    for (let t = 0; t < trees; t++) {
      const w = treeSum[t] as number;
      whole += w;
      system[t * size + t] = 1 + w * byTree * byTree;
      system[trees * size + t] = w * byTree * byItem;
    }
    system[trees * size + trees] = 1 + whole * byItem * byItem;
  }

  /** Takes the seasons out of the system; returns the logarithm of the product of their pivots. */
  function eliminateSeasons(item: number): number {
    const { item: byItem, season: bySeason, tree: byTree } = spread;
    const [matrix, cells] = [system, seasonRow];
    const trees = treesOf[item] as number;
    const [size, season, byCell] = [trees + 1, at.season(item), bySeason * byTree];
    let [product, logs, first] = [1, 0, at.row(item)];
    for (let s = season; s < season + (seasonsOf[item] as number); s++) {
      const w = pivot[s] as number;
      const d = 1 + w * bySeason * bySeason;
      pivot[s] = d;
      product *= d;
      if (product > MANY) {
        logs += Math.log(product);
        product = 1;
      }
      for (let t = 0; t < trees; t++) cells[first + t] = (cells[first + t] as number) * byCell;
      cells[first + trees] = w * bySeason * byItem;
      const inverse = 1 / d;
      for (let row = 0; row < size; row++) {
        const u = (cells[first + row] as number) * inverse;
        if (u === 0) continue;
        const start = row * size;
        for (let column = 0; column <= row; column++) {
          matrix[start + column] =
            (matrix[start + column] as number) - u * (cells[first + column] as number);
        }
      }
      first += size;
    }
    return logs + Math.log(product);
  }

  /** Half the logarithm of the determinant of the precision of an item's plate means. */
  function factorise(item: number): number {
    const trees = treesOf[item] as number;
    const size = trees + 1;
    let logs = addUpWeights(item);
    setUp(trees);
    logs -= eliminateSeasons(item);
    choleskyInPlace(system, size);
    let product = 1;
    const start = at.system(item);
    for (let k = 0; k < size; k++) product *= system[k * size + k] as number;
    for (let cell = 0; cell < size * size; cell++) factors[start + cell] = system[cell] as number;
    return 0.5 * logs - Math.log(product);
  }

  /** Sums weighted rests by season and tree, in the unit of the values; returns their sum of squares. */
  function addUpRests(item: number, rest: Float64Array): number {
    const [weights, seasonOf, treeOf] = [weight, plateSeason, plateTree];
    const [bySeason, byTree, season] = [seasonRight, own, at.season(item)];
    for (let s = season; s < season + (seasonsOf[item] as number); s++) bySeason[s] = 0;
    for (let t = 0; t <= (treesOf[item] as number); t++) byTree[t] = 0;
    const last = firstPlate[item + 1] as number;
    let square = 0;
    for (let plate = firstPlate[item] as number; plate < last; plate++) {
      const r = rest[plate] as number;
      const wr = (weights[plate] as number) * r;
      const s = season + (seasonOf[plate] as number);
      const t = treeOf[plate] as number;
      square += wr * r;
      bySeason[s] = (bySeason[s] as number) + wr;
      byTree[t] = (byTree[t] as number) + wr;
    }
    return square;
  }

  /** Solves one item; returns half the sum of squares that its effects explain, less that of its rests. */
  function solveItem(item: number, rest: Float64Array): number {
    let square = -addUpRests(item, rest);
    const { item: byItem, season: bySeason, tree: byTree } = spread;
    const [cells, b, trees] = [seasonRow, own, treesOf[item] as number];
    const [size, season] = [trees + 1, at.season(item)];
    let whole = 0;
    for (let t = 0; t < trees; t++) {
      whole += b[t] as number;
      b[t] = (b[t] as number) * byTree;
    }
    b[trees] = whole * byItem;
    let first = at.row(item);
    for (let s = season; s < season + (seasonsOf[item] as number); s++) {
      const h = (seasonRight[s] as number) * bySeason;
      const u = h / (pivot[s] as number);
      seasonRight[s] = h;
      square += h * u;
      for (let row = 0; row < size; row++) {
        b[row] = (b[row] as number) - u * (cells[first + row] as number);
      }
      first += size;
    }
    takeFactor(item, size);
    forwardInPlace(system, size, b);
    const start = at.unknown(item);
    for (let k = 0; k < size; k++) {
      const h = b[k] as number;
      right[start + k] = h;
      square += h * h;
    }
    return 0.5 * square;
  }

  function takeFactor(item: number, size: number): void {
    const start = at.system(item);
    for (let cell = 0; cell < size * size; cell++) system[cell] = factors[start + cell] as number;
  }

  const pivotOf = (item: number) =>
    factors[at.system(item) + ((treesOf[item] as number) + 1) ** 2 - 1] as number;

  return {
    prepare(spreads, weights) {
      spread = spreads;
      weight = weights;
      logRoots = 0;
      for (const item of active) logRoots += factorise(item);
    },
    solve(rest) {
      let likelihood = logRoots;
      for (const item of active) likelihood += solveItem(item, rest);
      return likelihood;
    },
    mean: (item) =>
      (spread.item * (right[at.unknown(item) + (treesOf[item] as number)] as number)) /
      pivotOf(item),
    sd: (item) => spread.item / pivotOf(item),
    draw(item, normal, fitted) {
      const { season: bySeason, tree: byTree } = spread;
      const size = 1 + (treesOf[item] as number);
      const [start, season, seasons] = [
        at.unknown(item),
        at.season(item),
        seasonsOf[item] as number,
      ];
      for (let k = 0; k < size; k++) effect[k] = (right[start + k] as number) + normal();
      takeFactor(item, size);
      backwardInPlace(system, size, effect);
      let first = at.row(item);
      for (let s = 0; s < seasons; s++) {
        const d = pivot[season + s] as number;
        let h = seasonRight[season + s] as number;
        for (let k = 0; k < size; k++)
          h -= (seasonRow[first + k] as number) * (effect[k] as number);
        seasonEffect[s] = h / d + normal() / Math.sqrt(d);
        first += size;
      }
      const last = firstPlate[item + 1] as number;
      const ofItem = spread.item * (effect[size - 1] as number);
      const [seasonOf, treeOf, ofSeason, ofTree] = [plateSeason, plateTree, seasonEffect, effect];
      for (let plate = firstPlate[item] as number; plate < last; plate++) {
        fitted[plate] =
          ofItem +
          bySeason * (ofSeason[seasonOf[plate] as number] as number) +
          byTree * (ofTree[treeOf[plate] as number] as number);
      }
      return ofItem;
    },
  };
}
