import { backwardInPlace, choleskyInPlace, forwardInPlace } from '../numbers/cholesky-in-place.ts';
import type { MixedLayout } from './mixed-layout.ts';

/** Draws block and factor effects; see `blockSolver`. */
export type BlockSolver = {
  /**
   * Draws all block effects and factor columns jointly.
   *
   * @param rest plate means less the items' effects
   * @param weights of the plate means; `residual` is the variance within plates
   */
  draw(rest: Float64Array, weights: Float64Array, residual: number, blockSpread: number): void;
  /** Drawn block effects, beside the overall level. */
  readonly block: Float64Array;
  /** Drawn factor columns; the first is the overall level. */
  readonly column: Float64Array;
  /** Puts plate mean less drawn block and factor effects in `rest`. */
  subtract(rest: Float64Array): void;
  /** Sum of squares within plates around the drawn factor effects. */
  withinSquare(): number;
};

/**
 * Block and factor effects given the items' effects: blocks are normal around the overall level, factor columns
 * have a normal prior so wide that it only keeps what the values leave open from running away.
 *
 * No two blocks share a plate, so they are eliminated one by one and a system of the few factor columns remains.
 */
export function blockSolver(layout: MixedLayout, wide: number, normal: () => number): BlockSolver {
  const { blocks, columns, plateMean, plates } = layout;
  const { groups, plateGroup, groupBlock, groupDesign } = alikePlates(layout);
  const groupWeight = new Float64Array(groups);
  const groupRight = new Float64Array(groups);
  const groupEffect = new Float64Array(groups);
  const system = new Float64Array(columns * columns);
  const right = new Float64Array(columns);
  const diagonal = new Float64Array(blocks);
  const blockRight = new Float64Array(blocks);
  const blockRow = new Float64Array(blocks * columns);
  const block = new Float64Array(blocks);
  const column = new Float64Array(columns);

  function gather(rest: Float64Array, weights: Float64Array, residual: number): void {
    // Without spread within plates there is nothing to learn there, and nothing to divide by.
    const inner = residual > 0 ? 1 / residual : 0;
    for (let k = 0; k < columns * columns; k++)
      system[k] = inner * (layout.withinDesign[k] as number);
    for (let k = 0; k < columns; k++) {
      right[k] = inner * (layout.withinProduct[k] as number);
      system[k * columns + k] = (system[k * columns + k] as number) + 1 / (wide * wide);
    }
    blockRight.fill(0);
    blockRow.fill(0);
    addUp(weights, rest);
    for (let group = 0; group < groups; group++) {
      const w = groupWeight[group] as number;
      const wr = groupRight[group] as number;
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

  function addUp(weights: Float64Array, rest: Float64Array): void {
    // In names of their own: the engine reads these faster than those of the function around.
    const [placed, sums, rights] = [plateGroup, groupWeight, groupRight];
    sums.fill(0);
    rights.fill(0);
    for (let plate = 0; plate < plates; plate++) {
      const w = weights[plate] as number;
      const group = placed[plate] as number;
      sums[group] = (sums[group] as number) + w;
      rights[group] = (rights[group] as number) + w * (rest[plate] as number);
    }
  }

  function eliminateBlocks(): void {
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

  return {
    block,
    column,
    draw(rest, weights, residual, blockSpread) {
      diagonal.fill(1 / (blockSpread * blockSpread));
      gather(rest, weights, residual);
      eliminateBlocks();
      choleskyInPlace(system, columns);
      forwardInPlace(system, columns, right);
      for (let k = 0; k < columns; k++) column[k] = (right[k] as number) + normal();
      backwardInPlace(system, columns, column);
      for (let b = 0; b < blocks; b++) {
        let h = blockRight[b] as number;
        for (let k = 0; k < columns; k++)
          h -= (blockRow[b * columns + k] as number) * (column[k] as number);
        const d = diagonal[b] as number;
        block[b] = h / d + normal() / Math.sqrt(d);
      }
    },
    subtract(rest) {
      for (let group = 0; group < groups; group++) {
        let effect = block[groupBlock[group] as number] as number;
        for (let k = 0; k < columns; k++) {
          effect += (groupDesign[group * columns + k] as number) * (column[k] as number);
        }
        groupEffect[group] = effect;
      }
      const [placed, means, effects] = [plateGroup, plateMean, groupEffect];
      for (let plate = 0; plate < plates; plate++) {
        rest[plate] = (means[plate] as number) - (effects[placed[plate] as number] as number);
      }
    },
    withinSquare() {
      let sum = layout.withinSquare;
      for (let k = 0; k < columns; k++) {
        const x = column[k] as number;
        sum -= 2 * x * (layout.withinProduct[k] as number);
        for (let l = 0; l < columns; l++) {
          sum += x * (layout.withinDesign[k * columns + l] as number) * (column[l] as number);
        }
      }
      return Math.max(0, sum);
    },
  };
}

/** Plates of one block with the same design row, which only ever enter as sums over them. */
function alikePlates({ plates, columns, design, plateBlock }: MixedLayout) {
  const places = new Map<string, number>();
  const plateGroup = new Int32Array(plates);
  const first: number[] = [];
  for (let plate = 0; plate < plates; plate++) {
    const row = design.subarray(plate * columns, (plate + 1) * columns);
    const key = `${plateBlock[plate]} ${row.join(' ')}`;
    const group = places.get(key) ?? places.size;
    if (group === places.size) {
      places.set(key, group);
      first.push(plate);
    }
    plateGroup[plate] = group;
  }
  return {
    groups: first.length,
    plateGroup,
    groupBlock: Int32Array.from(first, (plate) => plateBlock[plate] as number),
    groupDesign: Float64Array.from(
      first.flatMap((plate) => [...design.subarray(plate * columns, (plate + 1) * columns)]),
    ),
  };
}
