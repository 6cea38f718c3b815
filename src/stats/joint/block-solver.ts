import { backwardInPlace, choleskyInPlace, forwardInPlace } from '../numbers/cholesky-in-place.ts';
import type { Normals } from '../random/seeded-random.ts';
import type { PartCells } from './part-cells.ts';

/**
 * Block and factor effects given the items' effects: blocks are normal around the overall level, factor columns
 * have a normal prior so wide that it only keeps what the values leave open from running away.
 *
 * No two blocks share a plate, so they are eliminated one by one and a system of the few factor columns remains.
 */
export class BlockSolver {
  /** Drawn block effects, beside the levels of the sites. */
  readonly block: Float64Array;
  /** Drawn factor columns; one a site, then the judges. */
  readonly column: Float64Array;
  readonly #layout: PartCells;
  readonly #alike: AlikePlates;
  /** Precision of the prior of the factor columns. */
  readonly #wide: number;
  readonly #groupWeight: Float64Array;
  readonly #groupRight: Float64Array;
  readonly #groupEffect: Float64Array;
  readonly #system: Float64Array;
  readonly #right: Float64Array;
  readonly #diagonal: Float64Array;
  readonly #blockRight: Float64Array;
  readonly #blockRow: Float64Array;
  readonly #noise: Float64Array;

  /** @param wide standard deviation of the prior of the factor columns */
  constructor(layout: PartCells, wide: number) {
    const { blocks, columns } = layout;
    const alike = alikePlates(layout);
    this.#layout = layout;
    this.#alike = alike;
    this.#wide = 1 / (wide * wide);
    this.#groupWeight = new Float64Array(alike.groups);
    this.#groupRight = new Float64Array(alike.groups);
    this.#groupEffect = new Float64Array(alike.groups);
    this.#system = new Float64Array(columns * columns);
    this.#right = new Float64Array(columns);
    this.#diagonal = new Float64Array(blocks);
    this.#blockRight = new Float64Array(blocks);
    this.#blockRow = new Float64Array(blocks * columns);
    this.#noise = new Float64Array(columns + blocks);
    this.block = new Float64Array(blocks);
    this.column = new Float64Array(columns);
  }

  /**
   * Draws all block effects and factor columns jointly.
   *
   * @param rest plate means less the items' effects
   * @param weights of the plate means; `residual` is the variance within plates
   */
  draw(
    rest: Float64Array,
    weights: Float64Array,
    residual: number,
    blockSpread: number,
    random: Normals,
  ): void {
    const { blocks, columns } = this.#layout;
    const [system, right, column, block] = [this.#system, this.#right, this.column, this.block];
    this.#diagonal.fill(1 / (blockSpread * blockSpread));
    this.#gather(rest, weights, residual);
    this.#eliminateBlocks();
    choleskyInPlace(system, columns);
    forwardInPlace(system, columns, right);
    const noise = this.#noise;
    random.normals(noise, columns + blocks);
    for (let k = 0; k < columns; k++) column[k] = (right[k] as number) + (noise[k] as number);
    backwardInPlace(system, columns, column);
    const [blockRow, blockRight, diagonal] = [this.#blockRow, this.#blockRight, this.#diagonal];
    for (let b = 0; b < blocks; b++) {
      let h = blockRight[b] as number;
      for (let k = 0; k < columns; k++) {
        h -= (blockRow[b * columns + k] as number) * (column[k] as number);
      }
      const d = diagonal[b] as number;
      block[b] = h / d + (noise[columns + b] as number) / Math.sqrt(d);
    }
  }

  /** Puts plate mean less drawn block and factor effects in `rest`. */
  subtract(rest: Float64Array): void {
    const { columns, plateMean } = this.#layout;
    const { groups, groupBlock, groupDesign, plateGroup } = this.#alike;
    const [effects, block, column] = [this.#groupEffect, this.block, this.column];
    for (let group = 0; group < groups; group++) {
      let effect = block[groupBlock[group] as number] as number;
      for (let k = 0; k < columns; k++) {
        effect += (groupDesign[group * columns + k] as number) * (column[k] as number);
      }
      effects[group] = effect;
    }
    for (let plate = 0; plate < plateMean.length; plate++) {
      rest[plate] = (plateMean[plate] as number) - (effects[plateGroup[plate] as number] as number);
    }
  }

  /** Sum of squares within plates around the drawn factor effects. */
  withinSquare(): number {
    const { columns, withinProduct, withinDesign } = this.#layout;
    const column = this.column;
    let sum = this.#layout.withinSquare;
    for (let k = 0; k < columns; k++) {
      const x = column[k] as number;
      sum -= 2 * x * (withinProduct[k] as number);
      for (let l = 0; l < columns; l++) {
        sum += x * (withinDesign[k * columns + l] as number) * (column[l] as number);
      }
    }
    return Math.max(0, sum);
  }

  #gather(rest: Float64Array, weights: Float64Array, residual: number): void {
    const { columns, withinDesign, withinProduct } = this.#layout;
    const { groups, groupBlock, groupDesign } = this.#alike;
    const [system, right, diagonal] = [this.#system, this.#right, this.#diagonal];
    const [blockRight, blockRow] = [this.#blockRight, this.#blockRow];
    // Without spread within plates there is nothing to learn there, and nothing to divide by.
    const inner = residual > 0 ? 1 / residual : 0;
    for (let k = 0; k < columns * columns; k++) system[k] = inner * (withinDesign[k] as number);
    for (let k = 0; k < columns; k++) {
      right[k] = inner * (withinProduct[k] as number);
      system[k * columns + k] = (system[k * columns + k] as number) + this.#wide;
    }
    blockRight.fill(0);
    blockRow.fill(0);
    this.#addUp(weights, rest);
    for (let group = 0; group < groups; group++) {
      const w = this.#groupWeight[group] as number;
      const wr = this.#groupRight[group] as number;
      const b = groupBlock[group] as number;
      const at = group * columns;
      diagonal[b] = (diagonal[b] as number) + w;
      blockRight[b] = (blockRight[b] as number) + wr;
      for (let k = 0; k < columns; k++) {
        const own = groupDesign[at + k] as number;
        if (own === 0) continue;
        const x = w * own;
        right[k] = (right[k] as number) + wr * own;
        blockRow[b * columns + k] = (blockRow[b * columns + k] as number) + x;
        for (let l = 0; l <= k; l++) {
          const cell = k * columns + l;
          system[cell] = (system[cell] as number) + x * (groupDesign[at + l] as number);
        }
      }
    }
  }

  #addUp(weights: Float64Array, rest: Float64Array): void {
    const { plateGroup } = this.#alike;
    const [sums, rights] = [this.#groupWeight, this.#groupRight];
    sums.fill(0);
    rights.fill(0);
    for (let plate = 0; plate < plateGroup.length; plate++) {
      const w = weights[plate] as number;
      const group = plateGroup[plate] as number;
      sums[group] = (sums[group] as number) + w;
      rights[group] = (rights[group] as number) + w * (rest[plate] as number);
    }
  }

  #eliminateBlocks(): void {
    const { blocks, columns } = this.#layout;
    const [system, right, diagonal] = [this.#system, this.#right, this.#diagonal];
    const [blockRight, blockRow] = [this.#blockRight, this.#blockRow];
    for (let b = 0; b < blocks; b++) {
      const d = diagonal[b] as number;
      for (let k = 0; k < columns; k++) {
        const u = (blockRow[b * columns + k] as number) / d;
        if (u === 0) continue;
        right[k] = (right[k] as number) - u * (blockRight[b] as number);
        for (let l = 0; l <= k; l++) {
          const cell = k * columns + l;
          system[cell] = (system[cell] as number) - u * (blockRow[b * columns + l] as number);
        }
      }
    }
  }
}

/** Plates of one block with the same design row, which only ever enter as sums over them. */
type AlikePlates = {
  readonly groups: number;
  /** By plate. */
  readonly plateGroup: Int32Array;
  readonly groupBlock: Int32Array;
  /** groups x columns. */
  readonly groupDesign: Float64Array;
};

function alikePlates({ plates, columns, blocks, design, plateBlock }: PartCells): AlikePlates {
  const plateGroup = new Int32Array(plates);
  /** The first plate of each group, and for each block its groups. */
  const first: number[] = [];
  const ofBlock = Array.from({ length: blocks }, (): number[] => []);
  for (let plate = 0; plate < plates; plate++) {
    const known = ofBlock[plateBlock[plate] as number] as number[];
    let group = known.find((one) => isSameRow(design, columns, first[one] as number, plate));
    if (group === undefined) {
      group = first.length;
      first.push(plate);
      known.push(group);
    }
    plateGroup[plate] = group;
  }
  const groupDesign = new Float64Array(first.length * columns);
  for (const [group, plate] of first.entries()) {
    groupDesign.set(design.subarray(plate * columns, (plate + 1) * columns), group * columns);
  }
  return {
    groups: first.length,
    plateGroup,
    groupBlock: Int32Array.from(first, (plate) => plateBlock[plate] as number),
    groupDesign,
  };
}

function isSameRow(rows: Float64Array, columns: number, one: number, other: number): boolean {
  for (let k = 0; k < columns; k++) {
    if (rows[one * columns + k] !== rows[other * columns + k]) return false;
  }
  return true;
}
