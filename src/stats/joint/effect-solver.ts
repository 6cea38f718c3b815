import { choleskyInPlace, forwardInPlace } from '../numbers/cholesky-in-place.ts';
import type { Normals } from '../random/seeded-random.ts';
import type { EffectPlaces } from './effect-places.ts';
import { ITEM, SEASON, SITE, TREE } from './joint-trial.ts';

/**
 * All effects of an item given everything else, in one normal draw: what the item is worth, its trees, its sites and
 * its seasons, each a vector over the parts.
 *
 * No two seasons share a spot, so they are eliminated one by one, as blocks of a sparse Cholesky factor are; a dense
 * system of trees, sites and the item remains, in this order, so that further draws of the last two alone are cheap.
 */
export class EffectSolver {
  /** By level: effects, one vector over the parts after another. */
  readonly effects: readonly Float64Array[];
  readonly #places: EffectPlaces;
  /** By level, precision of an effect: parts x parts. */
  readonly #precision: readonly Float64Array[];
  /** By spot and part: precision of what was seen there, and that times the mean of what was seen. */
  readonly #weight: Float64Array;
  readonly #right: Float64Array;
  /** By item, one after another: factor of its dense system and the right side, half solved. */
  readonly #factor: Float64Array;
  readonly #half: Float64Array;
  readonly #factorAt: Int32Array;
  readonly #halfAt: Int32Array;
  // Of one item at a time, season by season.
  readonly #seasonFactor: Float64Array;
  readonly #seasonRight: Float64Array;
  readonly #coupling: Float64Array;
  readonly #inverse: Float64Array;
  readonly #solved: Float64Array;
  readonly #drawn: Float64Array;
  readonly #noise: Float64Array;
  readonly #used: Uint8Array;

  constructor(
    places: EffectPlaces,
    precision: readonly Float64Array[],
    weight: Float64Array,
    right: Float64Array,
  ) {
    const { items, parts, counts, firstSeason } = places;
    this.#places = places;
    this.#precision = precision;
    this.#weight = weight;
    this.#right = right;
    this.effects = counts.map((count) => new Float64Array(count * parts));
    this.#factorAt = new Int32Array(items + 1);
    this.#halfAt = new Int32Array(items + 1);
    let [most, seasons] = [0, 0];
    for (let item = 0; item < items; item++) {
      const size = parts * slotsOf(places, item);
      this.#factorAt[item + 1] = (this.#factorAt[item] as number) + size * size;
      this.#halfAt[item + 1] = (this.#halfAt[item] as number) + size;
      most = Math.max(most, size);
      seasons = Math.max(
        seasons,
        (firstSeason[item + 1] as number) - (firstSeason[item] as number),
      );
    }
    this.#factor = new Float64Array(this.#factorAt[items] as number);
    this.#half = new Float64Array(this.#halfAt[items] as number);
    this.#seasonFactor = new Float64Array(seasons * parts * parts);
    this.#seasonRight = new Float64Array(seasons * parts);
    this.#coupling = new Float64Array(seasons * most);
    this.#inverse = new Float64Array(parts * parts);
    this.#solved = new Float64Array(parts);
    this.#drawn = new Float64Array(most);
    this.#noise = new Float64Array(Math.max(most, parts));
    this.#used = new Uint8Array(most);
  }

  /** Draws the effects of an item. */
  draw(item: number, random: Normals): void {
    const { parts, firstSeason } = this.#places;
    const size = parts * slotsOf(this.#places, item);
    this.#gather(item, size);
    this.#eliminateSeasons(item, size);
    const [factor, at] = [this.#factor, this.#factorAt[item] as number];
    const [half, halfAt] = [this.#half, this.#halfAt[item] as number];
    choleskyInPlace(factor, size, at);
    const drawn = this.#drawn;
    for (let k = 0; k < size; k++) drawn[k] = half[halfAt + k] as number;
    forwardInPlace(factor, size, drawn, at);
    for (let k = 0; k < size; k++) half[halfAt + k] = drawn[k] as number;
    random.normals(this.#noise, size);
    for (let k = 0; k < size; k++) drawn[k] = (drawn[k] as number) + (this.#noise[k] as number);
    this.#backTo(item, size, 0, drawn);
    this.#keepSlots(item, drawn);
    const seasons = (firstSeason[item + 1] as number) - (firstSeason[item] as number);
    for (let t = 0; t < seasons; t++) this.#drawSeason(item, size, t, random);
  }

  /**
   * Another draw of what an item is worth and of its effects at sites, everything else as it was for `draw`.
   *
   * @param noise standard normals, `lastUnknowns` of them from an index on
   * @param sign 1, or -1 for the mirror image
   * @param into sites that it was seen at, then the item, a vector over the parts each
   */
  drawLast(
    item: number,
    noise: Float64Array,
    noiseAt: number,
    sign: number,
    into: Float64Array,
  ): void {
    const size = this.#places.parts * slotsOf(this.#places, item);
    const last = this.lastUnknowns(item);
    const from = size - last;
    const [half, halfAt, drawn] = [this.#half, this.#halfAt[item] as number, this.#drawn];
    for (let k = 0; k < last; k++) {
      drawn[from + k] = (half[halfAt + from + k] as number) + sign * (noise[noiseAt + k] as number);
    }
    this.#backTo(item, size, from, drawn);
    for (let k = 0; k < last; k++) into[k] = drawn[from + k] as number;
  }

  /** How many unknowns `drawLast` draws. */
  lastUnknowns(item: number): number {
    const { parts, firstSite } = this.#places;
    return parts * (1 + (firstSite[item + 1] as number) - (firstSite[item] as number));
  }

  /** Puts the sum of its effects in place of each spot's. */
  fit(into: Float64Array): void {
    const { parts, spots, spotItem, spotSeason, spotSite, spotTree } = this.#places;
    const [items, seasons, sites, trees] = this.effects as readonly [
      Float64Array,
      Float64Array,
      Float64Array,
      Float64Array,
    ];
    for (let spot = 0; spot < spots; spot++) {
      const item = (spotItem[spot] as number) * parts;
      const season = (spotSeason[spot] as number) * parts;
      const site = (spotSite[spot] as number) * parts;
      const tree = (spotTree[spot] as number) * parts;
      for (let k = 0; k < parts; k++) {
        into[spot * parts + k] =
          (items[item + k] as number) +
          (seasons[season + k] as number) +
          (trees[tree + k] as number) +
          (site < 0 ? 0 : (sites[site + k] as number));
      }
    }
  }

  /** The dense system and right side before seasons are eliminated. */
  #gather(item: number, size: number): void {
    const { parts, firstSpot, firstTree, firstSite, firstSeason } = this.#places;
    const { spotTree, spotSite, spotSeason } = this.#places;
    const [factor, at, half, halfAt] = [
      this.#factor,
      this.#factorAt[item] as number,
      this.#half,
      this.#halfAt[item] as number,
    ];
    factor.fill(0, at, at + size * size);
    half.fill(0, halfAt, halfAt + size);
    const trees = (firstTree[item + 1] as number) - (firstTree[item] as number);
    const sites = (firstSite[item + 1] as number) - (firstSite[item] as number);
    for (let slot = 0; slot < trees; slot++) this.#addPrecision(TREE, at, size, slot * parts);
    for (let slot = trees; slot < trees + sites; slot++) {
      this.#addPrecision(SITE, at, size, slot * parts);
    }
    const own = size - parts;
    this.#addPrecision(ITEM, at, size, own);
    const seasons = (firstSeason[item + 1] as number) - (firstSeason[item] as number);
    const [block, right, coupling] = [this.#seasonFactor, this.#seasonRight, this.#coupling];
    const swing = this.#precision[SEASON] as Float64Array;
    for (let t = 0; t < seasons; t++) block.set(swing, t * parts * parts);
    right.fill(0, 0, seasons * parts);
    coupling.fill(0, 0, seasons * size);
    for (let spot = firstSpot[item] as number; spot < (firstSpot[item + 1] as number); spot++) {
      const tree = ((spotTree[spot] as number) - (firstTree[item] as number)) * parts;
      const site =
        sites === 0
          ? -1
          : (trees + (spotSite[spot] as number) - (firstSite[item] as number)) * parts;
      const t = (spotSeason[spot] as number) - (firstSeason[item] as number);
      for (let k = 0; k < parts; k++) {
        const w = this.#weight[spot * parts + k] as number;
        if (w === 0) continue;
        const b = this.#right[spot * parts + k] as number;
        const [i, u] = [tree + k, own + k];
        add(block, t * parts * parts + k * parts + k, w);
        add(right, t * parts + k, b);
        add(coupling, t * size + i, w);
        add(coupling, t * size + u, w);
        add(factor, at + i * size + i, w);
        add(factor, at + u * size + i, w);
        add(factor, at + u * size + u, w);
        add(half, halfAt + i, b);
        add(half, halfAt + u, b);
        if (site < 0) continue;
        const g = site + k;
        add(coupling, t * size + g, w);
        add(factor, at + g * size + g, w);
        add(factor, at + g * size + i, w);
        add(factor, at + u * size + g, w);
        add(half, halfAt + g, b);
      }
    }
  }

  #addPrecision(level: number, at: number, size: number, from: number): void {
    const { parts } = this.#places;
    const [precision, factor] = [this.#precision[level] as Float64Array, this.#factor];
    for (let k = 0; k < parts; k++) {
      for (let l = 0; l <= k; l++) {
        factor[at + (from + k) * size + from + l] = precision[k * parts + l] as number;
      }
    }
  }

  #eliminateSeasons(item: number, size: number): void {
    const { parts, firstSeason } = this.#places;
    const [factor, at] = [this.#factor, this.#factorAt[item] as number];
    const [half, halfAt] = [this.#half, this.#halfAt[item] as number];
    const [block, right, coupling] = [this.#seasonFactor, this.#seasonRight, this.#coupling];
    const [inverse, solved, used] = [this.#inverse, this.#solved, this.#used];
    const seasons = (firstSeason[item + 1] as number) - (firstSeason[item] as number);
    const slots = size / parts;
    for (let t = 0; t < seasons; t++) {
      choleskyInPlace(block, parts, t * parts * parts);
      invert(block, t * parts * parts, parts, inverse);
      for (let k = 0; k < parts; k++) {
        let sum = 0;
        for (let l = 0; l < parts; l++) {
          sum += (inverse[k * parts + l] as number) * (right[t * parts + l] as number);
        }
        solved[k] = sum;
      }
      const from = t * size;
      for (let slot = 0; slot < slots; slot++) {
        let any = 0;
        for (let k = 0; k < parts; k++) any += coupling[from + slot * parts + k] as number;
        used[slot] = any > 0 ? 1 : 0;
      }
      for (let a = 0; a < slots; a++) {
        if (used[a] === 0) continue;
        for (let k = 0; k < parts; k++) {
          const row = a * parts + k;
          const c = coupling[from + row] as number;
          if (c === 0) continue;
          half[halfAt + row] = (half[halfAt + row] as number) - c * (solved[k] as number);
          const cell = at + row * size;
          for (let b = 0; b <= a; b++) {
            if (used[b] === 0) continue;
            // The factor reads the lower triangle alone.
            const end = b === a ? k + 1 : parts;
            for (let l = 0; l < end; l++) {
              const column = b * parts + l;
              factor[cell + column] =
                (factor[cell + column] as number) -
                c * (inverse[k * parts + l] as number) * (coupling[from + column] as number);
            }
          }
        }
      }
    }
  }

  /** Solves L' x = x from the last unknown back to one. */
  #backTo(item: number, size: number, to: number, x: Float64Array): void {
    const [factor, at] = [this.#factor, this.#factorAt[item] as number];
    for (let row = size - 1; row >= to; row--) {
      const value = (x[row] as number) / (factor[at + row * size + row] as number);
      x[row] = value;
      // Row by row, since the factor stands by rows.
      for (let k = to; k < row; k++) {
        x[k] = (x[k] as number) - (factor[at + row * size + k] as number) * value;
      }
    }
  }

  #keepSlots(item: number, drawn: Float64Array): void {
    const { parts, firstTree, firstSite } = this.#places;
    const trees = parts * ((firstTree[item + 1] as number) - (firstTree[item] as number));
    const sites = parts * ((firstSite[item + 1] as number) - (firstSite[item] as number));
    copy(drawn, 0, trees, this.effects[TREE] as Float64Array, parts * (firstTree[item] as number));
    copy(
      drawn,
      trees,
      sites,
      this.effects[SITE] as Float64Array,
      parts * (firstSite[item] as number),
    );
    copy(drawn, trees + sites, parts, this.effects[ITEM] as Float64Array, parts * item);
  }

  #drawSeason(item: number, size: number, t: number, random: Normals): void {
    const { parts, firstSeason } = this.#places;
    const [block, right, coupling] = [this.#seasonFactor, this.#seasonRight, this.#coupling];
    const [solved, drawn] = [this.#solved, this.#drawn];
    const factorAt = t * parts * parts;
    for (let k = 0; k < parts; k++) solved[k] = right[t * parts + k] as number;
    for (let slot = 0; slot < size; slot += parts) {
      for (let k = 0; k < parts; k++) {
        const c = coupling[t * size + slot + k] as number;
        solved[k] = (solved[k] as number) - c * (drawn[slot + k] as number);
      }
    }
    forwardInPlace(block, parts, solved, factorAt);
    random.normals(this.#noise, parts);
    for (let k = 0; k < parts; k++) solved[k] = (solved[k] as number) + (this.#noise[k] as number);
    const into = this.effects[SEASON] as Float64Array;
    const place = parts * ((firstSeason[item] as number) + t);
    for (let k = parts - 1; k >= 0; k--) {
      let sum = solved[k] as number;
      for (let l = k + 1; l < parts; l++) {
        sum -= (block[factorAt + l * parts + k] as number) * (solved[l] as number);
      }
      solved[k] = sum / (block[factorAt + k * parts + k] as number);
      into[place + k] = solved[k] as number;
    }
  }
}

/** Vectors of an item's dense system: its trees, the sites it was seen at, and itself. */
function slotsOf({ firstTree, firstSite }: EffectPlaces, item: number): number {
  return (
    (firstTree[item + 1] as number) -
    (firstTree[item] as number) +
    (firstSite[item + 1] as number) -
    (firstSite[item] as number) +
    1
  );
}

function add(into: Float64Array, at: number, value: number): void {
  into[at] = (into[at] as number) + value;
}

function copy(from: Float64Array, at: number, count: number, into: Float64Array, to: number): void {
  for (let k = 0; k < count; k++) into[to + k] = from[at + k] as number;
}

/** The inverse of L L', whole, from the lower factor that `choleskyInPlace` leaves from an index on. */
export function invert(factor: Float64Array, from: number, size: number, into: Float64Array): void {
  for (let column = 0; column < size; column++) {
    // Column of the inverse of L first, then L' solved.
    for (let row = 0; row < size; row++) {
      let sum = row === column ? 1 : 0;
      for (let k = column; k < row; k++) {
        sum -= (factor[from + row * size + k] as number) * (into[k * size + column] as number);
      }
      into[row * size + column] =
        row < column ? 0 : sum / (factor[from + row * size + row] as number);
    }
    for (let row = size - 1; row >= 0; row--) {
      let sum = into[row * size + column] as number;
      for (let k = row + 1; k < size; k++) {
        sum -= (factor[from + k * size + row] as number) * (into[k * size + column] as number);
      }
      into[row * size + column] = sum / (factor[from + row * size + row] as number);
    }
  }
}
