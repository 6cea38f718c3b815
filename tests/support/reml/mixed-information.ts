import { Matrix } from 'ml-matrix';
import type { Factor } from '../../../src/stats/numbers/factor.ts';
import type { MixedEquations } from './mixed-equations.ts';
import type { MixedSolution } from './mixed-solution.ts';

/** Slope and curvature of the residual log-likelihood in the variances. */
export interface MixedInformation {
  /** by random factor, then the residual */
  readonly score: readonly number[];
  /** expected (Fisher) information in the same order, in rows one after another */
  readonly expected: Float64Array;
  /** observed information: minus the second derivatives, which need not be positive */
  readonly observed: Float64Array;
}

/**
 * Score and information of the variances at a solution of the mixed model equations.
 *
 * Formula: score_i = 1/2 (y'P V_i P y - tr P V_i), expected_ij = 1/2 tr(P V_i P V_j), V_i = Z_i Z_i'
 * and I for the residual (Patterson & Thompson 1971, Biometrika 58:545-554); the average of expected
 * and observed is 1/2 y'P V_i P V_j P y (Gilmour, Thompson & Cullis 1995, Biometrics 51:1440-1450).
 * The traces follow from T_ij = Z_i'PZ_j, which stays exact where a variance is zero; those with the
 * residual come from P V P = P.
 */
export function mixedInformation(
  equations: MixedEquations,
  solution: MixedSolution,
): MixedInformation {
  const { random, rows, fixedColumns } = equations;
  const { residual, ratios, residuals } = solution;
  const factors = random.map((_, at) => at);
  const { traces, norms } = tracesAndNorms(equations, solution);
  const variances = ratios.map((ratio) => ratio * residual);
  const weighted = (values: readonly number[]): number =>
    values.reduce((total, value, at) => total + value * (variances[at] ?? 0), 0);

  const traceP = (rows - fixedColumns - weighted(traces)) / residual;
  const withResidual = factors.map((i) => ((traces[i] ?? 0) - weighted(norms[i] ?? [])) / residual);
  const residualWithItself = (traceP - weighted(withResidual)) / residual;

  const directions = [...factors.map((i) => spread(random[i], residuals)), residuals];
  const quadratic = directions.map((vector) => product(vector, residuals) / residual ** 2);
  const score = [...traces, traceP].map((trace, i) => 0.5 * ((quadratic[i] ?? 0) - trace));
  const expected = [
    ...factors.map((i) => [...(norms[i] ?? []), withResidual[i] ?? 0]),
    [...withResidual, residualWithItself],
  ].flat();
  const remainders = directions.map((vector) => solution.residualsOf(vector));
  const average = directions.flatMap((left) =>
    remainders.map((right) => product(left, right) / (residual * residual * residual)),
  );
  return {
    score,
    expected: Float64Array.from(expected, (value) => value / 2),
    observed: Float64Array.from(average, (value, at) => value - (expected[at] ?? 0) / 2),
  };
}

function product(left: Float64Array, right: Float64Array): number {
  return left.reduce((total, value, row) => total + value * (right[row] ?? 0), 0);
}

/** Z Z' times the residuals: for each row the sum of the residuals of its level. */
function spread(factor: Factor | undefined, residuals: Float64Array): Float64Array {
  const { levels, count } = factor ?? { levels: [], count: 0 };
  const totals = new Float64Array(count);
  residuals.forEach((value, row) => {
    const level = levels[row] ?? 0;
    totals[level] = (totals[level] ?? 0) + value;
  });
  return residuals.map((_, row) => totals[levels[row] ?? 0] ?? 0);
}

/** tr T_ii and squared norms of T_ij, without ever forming the wide by wide block. */
function tracesAndNorms(equations: MixedEquations, solution: MixedSolution) {
  const { wide, wideCounts, crossProducts, factorOf, random } = equations;
  const { residual, narrowCovariance, reduced, taken } = solution;
  const left = crossProducts
    .clone()
    .mulColumnVector(taken.map((share, at) => 1 - (wideCounts[at] ?? 0) * share));
  const turned = left.mmul(narrowCovariance);
  const narrowBlock = Matrix.sub(reduced, reduced.mmul(narrowCovariance).mmul(reduced));
  const wideBlock = Matrix.sub(left, turned.mmul(reduced));
  const wideDiagonal = wideCounts.map((count, at) => count * (1 - count * (taken[at] ?? 0)));
  const taking = turned.clone().mul(left);
  const removed = wideDiagonal.map((_, at) => taking.getRow(at).reduce((a, b) => a + b, 0));
  // Squared norm of diag(d) - turned left': the product is only ever formed narrow by narrow.
  const crossed = turned.transpose().mmul(left);
  const wideNorm = wideDiagonal.reduce(
    (total, d, at) => total + d * d - 2 * d * (removed[at] ?? 0),
    Matrix.mul(crossed, crossed.transpose()).sum(),
  );

  const traces = random.map((_, i) =>
    i === wide
      ? wideDiagonal.reduce((total, d, at) => total + d - (removed[at] ?? 0), 0)
      : factorOf.reduce((total, f, at) => total + (f === i ? narrowBlock.get(at, at) : 0), 0),
  );
  const columnsOf = random.map((_, i) => [...factorOf.keys()].filter((at) => factorOf[at] === i));
  const wideRows = [...wideCounts.keys()];
  const norm = (i: number, j: number): number => {
    if (i === wide && j === wide) return wideNorm;
    if (i === wide) return blockNorm(wideBlock, wideRows, columnsOf[j] ?? []);
    if (j === wide) return norm(j, i);
    return blockNorm(narrowBlock, columnsOf[i] ?? [], columnsOf[j] ?? []);
  };
  return {
    traces: traces.map((trace) => trace / residual),
    norms: random.map((_, i) => random.map((_, j) => norm(i, j) / residual ** 2)),
  };
}

function blockNorm(matrix: Matrix, rows: readonly number[], columns: readonly number[]): number {
  let total = 0;
  for (const row of rows) for (const column of columns) total += matrix.get(row, column) ** 2;
  return total;
}
