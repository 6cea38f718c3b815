import type { SeededRandom } from '../random/seeded-random.ts';
import { truncatedNormal } from '../random/truncated-normal.ts';
import type { JointPart } from './joint-trial.ts';
import type { PartCells } from './part-cells.ts';

/** What of a part's chain latent scores need: see `PartChain`. */
export interface JudgedPart {
  readonly cells: PartCells;
  readonly rest: Float64Array;
  readonly left: Float64Array;
  readonly levels: { readonly column: Float64Array; withinSquare(): number };
  readonly plate: number;
  readonly residual: number;
  withinSquare: number;
}

/**
 * The scores that someone who only puts plates in order would have given, drawn along with the rest: each is normal
 * about what its plate is worth before the average judge, between the scores of the plates before and behind it
 * (data augmentation; Albert and Chib 1993, JASA 88:669-679). Plates in a tie have no order between them.
 *
 * Where such a judge stands on the scale cannot be told, and does not matter: only differences are seen.
 */
export class LatentScores {
  /** Best first, the numbers of the latent scores of each rank. */
  readonly orders: readonly (readonly Int32Array[])[];
  /** Less the middle of the part. */
  readonly y: Float64Array;
  /** Place of the plate of each. */
  readonly plate: Int32Array;
  readonly #centre: Float64Array;
  readonly #plates: Int32Array;

  constructor({ orders = [], y }: JointPart, { placeOf, middle, plates }: PartCells) {
    const rows = [...new Set(orders.flat(2))];
    const number = new Map(rows.map((row, at) => [row, at]));
    this.orders = orders.map((ranks) =>
      ranks.map((rank) => Int32Array.from(rank, (row) => number.get(row) ?? 0)),
    );
    this.y = Float64Array.from(rows, (row) => (y[row] as number) - middle);
    this.plate = Int32Array.from(rows, (row) => placeOf[row] as number);
    this.#plates = Int32Array.from(new Set(this.plate));
    this.#centre = new Float64Array(plates);
  }

  /** Draws all of them anew. What is left of the plates once levels and effects are taken off stands in `left`. */
  draw(part: JudgedPart, random: SeededRandom): void {
    const spread = part.residual;
    this.#drawPlates(part, random);
    for (const ranks of this.orders) {
      for (let rank = 0; rank < ranks.length; rank++) {
        const low = this.#greatest(ranks[rank + 1]);
        const high = this.#least(ranks[rank - 1]);
        for (const at of ranks[rank] as Int32Array) {
          const centre = this.#centre[this.plate[at] as number] as number;
          const drawn = truncatedNormal((low - centre) / spread, (high - centre) / spread, random);
          this.set(part, at, centre + spread * drawn);
        }
      }
    }
    part.withinSquare = part.levels.withinSquare();
  }

  /** Puts another value in place of a latent score. */
  set({ cells, rest, left }: JudgedPart, at: number, value: number): void {
    const { columns, design, plateMean, plateSize, plateSite, sites, withinProduct } = cells;
    const p = this.plate[at] as number;
    const before = this.y[at] as number;
    const [change, size] = [value - before, plateSize[p] as number];
    const square = 2 * change * (before - (plateMean[p] as number));
    cells.withinSquare = Math.max(
      0,
      cells.withinSquare + square + change * change * (1 - 1 / size),
    );
    const site = sites.indexOf(plateSite[p] as number);
    for (let k = 0; k < columns; k++) {
      const off = (k === site ? 1 : 0) - (design[p * columns + k] as number);
      withinProduct[k] = (withinProduct[k] as number) + change * off;
    }
    for (const values of [plateMean, rest, left]) {
      values[p] = (values[p] as number) + change / size;
    }
    this.y[at] = value;
  }

  /** What each plate is worth before the average judge, its own luck drawn with it. */
  #drawPlates(part: JudgedPart, random: SeededRandom): void {
    const { cells, left, levels } = part;
    const { columns, design, plateMean, plateSize, sites } = cells;
    const [between, within] = [part.plate ** 2, part.residual ** 2];
    for (const p of this.#plates) {
      let centre = (plateMean[p] as number) - (left[p] as number);
      for (let k = sites.length; k < columns; k++) {
        centre -= (design[p * columns + k] as number) * (levels.column[k] as number);
      }
      const share = between / (between + within / (plateSize[p] as number));
      const luck = share * (left[p] as number);
      this.#centre[p] = centre + luck + Math.sqrt(between * (1 - share)) * random.normal();
    }
  }

  #greatest(rank: Int32Array | undefined): number {
    let found = Number.NEGATIVE_INFINITY;
    for (const at of rank ?? []) found = Math.max(found, this.y[at] as number);
    return found;
  }

  #least(rank: Int32Array | undefined): number {
    let found = Number.POSITIVE_INFINITY;
    for (const at of rank ?? []) found = Math.min(found, this.y[at] as number);
    return found;
  }
}
