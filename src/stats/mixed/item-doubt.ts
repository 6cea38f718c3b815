import { backwardInPlace, choleskyInPlace, forwardInPlace } from '../numbers/cholesky-in-place.ts';

/** Variances of the effects that move a plate of an item, in the square of the unit of its values. */
export interface SpreadVariances {
  readonly item: number;
  /** Of an item from season to season. */
  readonly season: number;
  /** Between trees of an item. */
  readonly tree: number;
  readonly plate: number;
  /** Between observations of one plate. */
  readonly residual: number;
  /** Of what all plates of one sitting share; 0 where each has the level of so many that it is as good as known. */
  readonly block: number;
}

/** A plate of an item that was observed, or may be. Seasons and trees count by whether they are the same. */
export interface ItemPlate {
  readonly season: number;
  readonly tree: number;
  /** How many observed it, 1 or more. */
  readonly observations: number;
}

/** Sittings of about so many plates: so much of their common level stays in what one of them says. */
const BLOCK_SHARE = 1 / 4;

/**
 * How far the lasting level of an item is still in doubt once some plates of it were observed, the spreads taken as
 * known: a variance.
 *
 * Model: plate = item + item in the season + tree + rest, all normal. With P = diag(1 / variances of the effects) +
 * sum of h h' / (plate + residual / observations + block / 4) over the plates, h marking the effects of a plate, it is
 * the first element of P^-1 (Henderson 1975, Biometrics 31:423-447).
 */
export function itemDoubt(plates: readonly ItemPlate[], spreads: SpreadVariances): number {
  const own = new Effects(plates, spreads);
  return own.solve([0])[0] as number;
}

/** What another plate of an item would say, given what was observed of it before. */
export interface PlateNews {
  /** Its expected rise for each unit that the item stands higher; below 1 where it repeats what is known. */
  readonly slope: number;
  /** Its variance about that, the plate's own luck and the sitting apart. */
  readonly rest: number;
}

/**
 * What the season and the tree of a plate add to the item itself is known in part where they were seen before. With S
 * = P^-1 as for `itemDoubt` and g marking the effects of the plate: slope (S g)_0 / S_00, rest g'Sg - (S g)_0^2 / S_00.
 */
export function plateNews(
  before: readonly ItemPlate[],
  { season, tree }: Pick<ItemPlate, 'season' | 'tree'>,
  spreads: SpreadVariances,
): PlateNews {
  const own = new Effects(before, spreads, { season, tree });
  const marked = own.places({ season, tree });
  const doubt = own.solve([0])[0] as number;
  const solved = own.solve(marked);
  const shared = solved[0] as number;
  const total = marked.reduce((sum, at) => sum + (solved[at] as number), 0);
  return { slope: shared / doubt, rest: Math.max(0, total - (shared * shared) / doubt) };
}

/** A spread that was drawn as nothing must not make the equations singular. */
const LEAST = 1e-12;

/** The equations of one item: its level, then its seasons, then its trees. */
class Effects {
  readonly #seasons: readonly number[];
  readonly #trees: readonly number[];
  readonly #size: number;
  readonly #factor: Float64Array;

  constructor(
    plates: readonly ItemPlate[],
    spreads: SpreadVariances,
    also?: Pick<ItemPlate, 'season' | 'tree'>,
  ) {
    const named = also === undefined ? plates : [...plates, also];
    this.#seasons = [...new Set(named.map(({ season }) => season))];
    this.#trees = [...new Set(named.map(({ tree }) => tree))];
    const size = 1 + this.#seasons.length + this.#trees.length;
    const equations = new Float64Array(size * size);
    for (let at = 0; at < size; at++) {
      const variance =
        at === 0 ? spreads.item : at <= this.#seasons.length ? spreads.season : spreads.tree;
      equations[at * size + at] = 1 / Math.max(LEAST, variance);
    }
    for (const plate of plates) {
      const noise =
        spreads.plate +
        spreads.residual / Math.max(1, plate.observations) +
        BLOCK_SHARE * spreads.block;
      const places = this.places(plate);
      for (const row of places) {
        for (const column of places) {
          const cell = row * size + column;
          equations[cell] = (equations[cell] as number) + 1 / Math.max(LEAST, noise);
        }
      }
    }
    choleskyInPlace(equations, size);
    this.#size = size;
    this.#factor = equations;
  }

  places({ season, tree }: Pick<ItemPlate, 'season' | 'tree'>): readonly number[] {
    const first = 1 + this.#seasons.length;
    return [0, 1 + this.#seasons.indexOf(season), first + this.#trees.indexOf(tree)];
  }

  /** P^-1 times a vector of ones at some places. */
  solve(ones: readonly number[]): Float64Array {
    const b = new Float64Array(this.#size);
    for (const at of ones) b[at] = 1;
    forwardInPlace(this.#factor, this.#size, b);
    backwardInPlace(this.#factor, this.#size, b);
    return b;
  }
}
