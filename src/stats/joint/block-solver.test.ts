import { Matrix, solve } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import { BlockSolver } from './block-solver.ts';
import { partCells } from './part-cells.ts';

const y = [5, 7, 6, 8, 4, 6, 3, 7, 5, 9];
const plate = [0, 0, 1, 1, 2, 2, 3, 3, 4, 4];
const block = [0, 0, 0, 0, 1, 1, 1, 1, 2, 2];
const taster = [0, 1, 1, 2, 0, 2, 0, 1, 1, 2];
const layout = partCells({
  y,
  item: plate,
  season: plate,
  tree: plate,
  site: plate.map(() => 0),
  plate,
  block,
  judge: taster,
  scale: 1,
});
const plateSpread = 0.7;
const residual = 1.44;
const blockSpread = 0.9;
const wide = 30;

/** Generalised least squares with the whole covariance matrix, blocks and factors as penalised columns. */
function dense() {
  const coded = [
    [1, 1, 0],
    [1, 0, 1],
    [1, -1, -1],
  ];
  const design = new Matrix(
    y.map((_, at) => [
      ...[0, 1, 2].map((b) => (block[at] === b ? 1 : 0)),
      ...(coded[taster[at] ?? 0] ?? []),
    ]),
  );
  const covariance = new Matrix(
    y.map((_, i) =>
      y.map((__, j) => (plate[i] === plate[j] ? plateSpread ** 2 : 0) + (i === j ? residual : 0)),
    ),
  );
  const weighted = solve(covariance, design).transpose();
  const penalty = Matrix.diag([
    ...[0, 1, 2].map(() => 1 / blockSpread ** 2),
    ...[0, 1, 2].map(() => 1 / wide ** 2),
  ]);
  return solve(
    weighted.mmul(design).add(penalty),
    weighted.mmul(Matrix.columnVector(y.map((value) => value - layout.middle))),
  ).to1DArray();
}

describe('BlockSolver', () => {
  const solver = new BlockSolver(layout, wide);
  const weights = layout.plateSize.map((size) => 1 / (plateSpread ** 2 + residual / size));
  solver.draw(layout.plateMean, weights, residual, blockSpread, {
    normals: (into) => into.fill(0),
  });

  it('has the conditional mean of the dense formula at its centre', () => {
    [...solver.block, ...solver.column].forEach((value, k) => {
      expect(value).toBeCloseTo(dense()[k] ?? Number.NaN, 10);
    });
  });

  it('takes its effects off the plate means', () => {
    const rest = new Float64Array(layout.plates);
    solver.subtract(rest);
    const [b, c] = [solver.block, solver.column];
    // First plate: tasters 0 and 1, whose coded columns average (1, 0.5, 0.5).
    const expected =
      6 - layout.middle - (b[0] ?? 0) - (c[0] ?? 0) - 0.5 * (c[1] ?? 0) - 0.5 * (c[2] ?? 0);
    expect(rest[0]).toBeCloseTo(expected, 12);
  });

  it('sums squares within plates around the factor effects', () => {
    const shift = [solver.column[1] ?? 0, solver.column[2] ?? 0];
    const effect = [shift[0] ?? 0, shift[1] ?? 0, -(shift[0] ?? 0) - (shift[1] ?? 0)];
    let square = 0;
    for (let p = 0; p < 5; p++) {
      const left = (y[2 * p] ?? 0) - (effect[taster[2 * p] ?? 0] ?? 0);
      const right = (y[2 * p + 1] ?? 0) - (effect[taster[2 * p + 1] ?? 0] ?? 0);
      square += (left - right) ** 2 / 2;
    }
    expect(solver.withinSquare()).toBeCloseTo(square, 10);
  });
});
