import { backwardInPlace, choleskyInPlace, forwardInPlace } from '../numbers/cholesky-in-place.ts';
import type { Normals } from '../random/seeded-random.ts';
import { type ItemPlaces, itemPlaces } from './item-places.ts';
import type { MixedLayout } from './mixed-layout.ts';
import type { Spreads } from './spreads.ts';

// Logarithms of products cost less than sums of logarithms, as long as the products stay in range.
const MANY = 1e100;
const FEW = 1e-100;

const NO_SPREADS: Spreads = { item: 0, season: 0, tree: 0, plate: 0, residual: 0 };

/**
 * The items' part of the mixed model, given the spreads and the block and factor effects: the conditional distribution
 * of the effects of all items. No two items meet, so each is solved by itself.
 *
 * Plate mean = item + item-by-season + tree + plate and observation error. Seasons do not meet one another, so they are
 * eliminated by hand; what remains is a system of the trees and, last, the item. Unknowns are in units of their own spread, so
 * that a spread of zero does no harm. Formulae: Searle, Casella and McCulloch 1992, Variance Components, ch. 7.
 *
 * What depends on the spreads alone is kept from `prepare` on, since plate means change more often than spreads. A class
 * and not a closure: the engine then optimises its methods once for all models of a run.
 */
export class ItemSolver {
  readonly #layout: MixedLayout;
  readonly #at: ItemPlaces;
  /** Items with plates. */
  readonly #active: Int32Array;
  /** By item: Cholesky factor of the system of its trees and, last, the item. */
  readonly #factors: Float64Array;
  readonly #right: Float64Array;
  /** By item and season: the pivot, and the row that ties the season to trees and item. */
  readonly #pivot: Float64Array;
  readonly #seasonRight: Float64Array;
  readonly #seasonRow: Float64Array;
  // Of one item at a time.
  readonly #own: Float64Array;
  readonly #treeSum: Float64Array;
  readonly #seasonEffect: Float64Array;
  readonly #noise: Float64Array;
  #spread = NO_SPREADS;
  #weight: Float64Array = new Float64Array(0);
  #logRoots = 0;

  constructor(layout: MixedLayout) {
    const { items, treesOf } = layout;
    const at = itemPlaces(layout);
    this.#layout = layout;
    this.#at = at;
    this.#active = Int32Array.from(
      [...treesOf.keys()].filter((item) => (treesOf[item] as number) > 0),
    );
    this.#factors = new Float64Array(at.system[items] as number);
    this.#right = new Float64Array(at.unknown[items] as number);
    this.#pivot = new Float64Array(at.season[items] as number);
    this.#seasonRight = new Float64Array(at.season[items] as number);
    this.#seasonRow = new Float64Array(at.row[items] as number);
    this.#own = new Float64Array(at.most);
    this.#treeSum = new Float64Array(at.most);
    this.#seasonEffect = new Float64Array(at.mostSeasons);
    this.#noise = new Float64Array(at.most + at.mostSeasons);
  }

  /** Sets the spreads and the weight that each plate mean gets from them; the weights must then stay as they are. */
  prepare(spreads: Spreads, weights: Float64Array): void {
    this.#spread = spreads;
    this.#weight = weights;
    const active = this.#active;
    let logRoots = 0;
    for (let k = 0; k < active.length; k++) logRoots += this.#factorise(active[k] as number);
    this.#logRoots = logRoots;
  }

  /** Log likelihood of all plate means (less block and factor effects), the items' own effects integrated out. */
  solve(rest: Float64Array): number {
    const active = this.#active;
    let likelihood = this.#logRoots;
    for (let k = 0; k < active.length; k++)
      likelihood += this.#solveItem(active[k] as number, rest);
    return likelihood;
  }

  /** After `solve`: mean of an item's effect. */
  mean(item: number): number {
    const last = (this.#at.unknown[item + 1] as number) - 1;
    return (this.#spread.item * (this.#right[last] as number)) / this.#pivotOf(item);
  }

  /** After `solve`: standard deviation of an item's effect. */
  sd(item: number): number {
    return this.#spread.item / this.#pivotOf(item);
  }

  /** After `solve`: draws all effects of an item, returns the item's and puts the sum of all for each plate in `fitted`. */
  draw(item: number, random: Normals, fitted: Float64Array): number {
    const { season: bySeason, tree: byTree, item: byItem } = this.#spread;
    const { firstPlate, plateSeason, plateTree, treesOf, seasonsOf } = this.#layout;
    const [effect, ofSeason, rows, noise] = [
      this.#own,
      this.#seasonEffect,
      this.#seasonRow,
      this.#noise,
    ];
    const size = 1 + (treesOf[item] as number);
    const seasons = seasonsOf[item] as number;
    const start = this.#at.unknown[item] as number;
    random.normals(noise, size + seasons);
    for (let k = 0; k < size; k++) {
      effect[k] = (this.#right[start + k] as number) + (noise[k] as number);
    }
    backwardInPlace(this.#factors, size, effect, this.#at.system[item] as number);
    const season = this.#at.season[item] as number;
    let first = this.#at.row[item] as number;
    for (let s = 0; s < seasons; s++) {
      const d = this.#pivot[season + s] as number;
      let h = this.#seasonRight[season + s] as number;
      for (let k = 0; k < size; k++) h -= (rows[first + k] as number) * (effect[k] as number);
      ofSeason[s] = bySeason * (h / d + (noise[size + s] as number) / Math.sqrt(d));
      first += size;
    }
    const ofItem = byItem * (effect[size - 1] as number);
    const last = firstPlate[item + 1] as number;
    for (let plate = firstPlate[item] as number; plate < last; plate++) {
      fitted[plate] =
        ofItem +
        (ofSeason[plateSeason[plate] as number] as number) +
        byTree * (effect[plateTree[plate] as number] as number);
    }
    return ofItem;
  }

  #pivotOf(item: number): number {
    return this.#factors[(this.#at.system[item + 1] as number) - 1] as number;
  }

  /** Half the logarithm of the determinant of the precision of an item's plate means. */
  #factorise(item: number): number {
    const size = 1 + (this.#layout.treesOf[item] as number);
    const [factors, start] = [this.#factors, this.#at.system[item] as number];
    const logs = this.#addUpWeights(item);
    this.#setUp(start, size);
    const seasonLogs = this.#eliminateSeasons(item);
    choleskyInPlace(factors, size, start);
    let product = 1;
    for (let k = 0; k < size; k++) product *= factors[start + k * size + k] as number;
    return 0.5 * (logs - seasonLogs) - Math.log(product);
  }

  /** Sums weights by season and tree; returns the logarithm of their product. */
  #addUpWeights(item: number): number {
    const { firstPlate, plateSeason, plateTree, treesOf, seasonsOf } = this.#layout;
    const [weights, cells, bySeason, byTree] = [
      this.#weight,
      this.#seasonRow,
      this.#pivot,
      this.#treeSum,
    ];
    const size = 1 + (treesOf[item] as number);
    const seasons = seasonsOf[item] as number;
    const [row, season] = [this.#at.row[item] as number, this.#at.season[item] as number];
    // Loops, not fill(): for a few entries a call costs more than the work.
    for (let cell = row; cell < row + seasons * size; cell++) cells[cell] = 0;
    for (let s = season; s < season + seasons; s++) bySeason[s] = 0;
    for (let t = 0; t < size; t++) byTree[t] = 0;
    const last = firstPlate[item + 1] as number;
    let product = 1;
    let logs = 0;
    for (let plate = firstPlate[item] as number; plate < last; plate++) {
      const w = weights[plate] as number;
      const s = plateSeason[plate] as number;
      const t = plateTree[plate] as number;
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
  #setUp(start: number, size: number): void {
    const { item: byItem, tree: byTree } = this.#spread;
    const [system, treeSum, trees] = [this.#factors, this.#treeSum, size - 1];
    const bottom = start + trees * size;
    for (let cell = start; cell < bottom; cell++) system[cell] = 0;
    let whole = 0;
    for (let t = 0; t < trees; t++) {
      const w = treeSum[t] as number;
      whole += w;
      system[start + t * size + t] = 1 + w * byTree * byTree;
      system[bottom + t] = w * byTree * byItem;
    }
    system[bottom + trees] = 1 + whole * byItem * byItem;
  }

  /** Takes the seasons out of the system; returns the logarithm of the product of their pivots. */
  #eliminateSeasons(item: number): number {
    const { item: byItem, season: bySeason, tree: byTree } = this.#spread;
    const [matrix, cells, pivot] = [this.#factors, this.#seasonRow, this.#pivot];
    const trees = this.#layout.treesOf[item] as number;
    const size = trees + 1;
    const byCell = bySeason * byTree;
    const start = this.#at.system[item] as number;
    const lastSeason = this.#at.season[item + 1] as number;
    let first = this.#at.row[item] as number;
    let product = 1;
    let logs = 0;
    for (let s = this.#at.season[item] as number; s < lastSeason; s++) {
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
        const at = start + row * size;
        for (let column = 0; column <= row; column++) {
          matrix[at + column] =
            (matrix[at + column] as number) - u * (cells[first + column] as number);
        }
      }
      first += size;
    }
    return logs + Math.log(product);
  }

  /** Solves one item; returns half the sum of squares that its effects explain, less that of its rests. */
  #solveItem(item: number, rest: Float64Array): number {
    const { item: byItem, season: bySeason, tree: byTree } = this.#spread;
    const [cells, b, seasonRight, pivot] = [
      this.#seasonRow,
      this.#own,
      this.#seasonRight,
      this.#pivot,
    ];
    let square = -this.#addUpRests(item, rest);
    const trees = this.#layout.treesOf[item] as number;
    const size = trees + 1;
    let whole = 0;
    for (let t = 0; t < trees; t++) {
      whole += b[t] as number;
      b[t] = (b[t] as number) * byTree;
    }
    b[trees] = whole * byItem;
    const lastSeason = this.#at.season[item + 1] as number;
    let first = this.#at.row[item] as number;
    for (let s = this.#at.season[item] as number; s < lastSeason; s++) {
      const h = (seasonRight[s] as number) * bySeason;
      const u = h / (pivot[s] as number);
      seasonRight[s] = h;
      square += h * u;
      for (let row = 0; row < size; row++) {
        b[row] = (b[row] as number) - u * (cells[first + row] as number);
      }
      first += size;
    }
    forwardInPlace(this.#factors, size, b, this.#at.system[item] as number);
    const start = this.#at.unknown[item] as number;
    for (let k = 0; k < size; k++) {
      const h = b[k] as number;
      this.#right[start + k] = h;
      square += h * h;
    }
    return 0.5 * square;
  }

  /** Sums weighted rests by season and tree, in the unit of the values; returns their sum of squares. */
  #addUpRests(item: number, rest: Float64Array): number {
    const { firstPlate, plateSeason, plateTree, treesOf } = this.#layout;
    const [weights, bySeason, byTree] = [this.#weight, this.#seasonRight, this.#own];
    const season = this.#at.season[item] as number;
    const lastSeason = this.#at.season[item + 1] as number;
    for (let s = season; s < lastSeason; s++) bySeason[s] = 0;
    for (let t = 0; t <= (treesOf[item] as number); t++) byTree[t] = 0;
    const last = firstPlate[item + 1] as number;
    let square = 0;
    for (let plate = firstPlate[item] as number; plate < last; plate++) {
      const r = rest[plate] as number;
      const wr = (weights[plate] as number) * r;
      const s = season + (plateSeason[plate] as number);
      const t = plateTree[plate] as number;
      square += wr * r;
      bySeason[s] = (bySeason[s] as number) + wr;
      byTree[t] = (byTree[t] as number) + wr;
    }
    return square;
  }
}
