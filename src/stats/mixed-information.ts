import { Matrix } from 'ml-matrix';
import type { MixedEquations } from './mixed-equations.ts';
import type { MixedSolution } from './mixed-solution.ts';

/** Slope and expected curvature of the residual log-likelihood in the variances. */
export interface MixedInformation {
  /** by random factor, then the residual */
  readonly score: readonly number[];
  /** Fisher information in the same order, in rows one after another */
  readonly information: Float64Array;
}

/**
 * Score and expected information of the variances at a solution of the mixed model equations.
 *
 * Formula: score_i = 1/2 (y'P V_i P y - tr P V_i), information_ij = 1/2 tr(P V_i P V_j), V_i = Z_i
 * Z_i' and I for the residual (Patterson & Thompson 1971, Biometrika 58:545-554). All follow from
 * T_ij = Z_i'PZ_j, which stays exact where a variance is zero; terms with the residual come from
 * P V P = P.
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

  const squares = residuals.reduce((total, value) => total + value * value, 0);
  const score = factors.map(
    (i) => 0.5 * (shareOfResiduals(equations, solution, i) / residual ** 2 - (traces[i] ?? 0)),
  );
  score.push(0.5 * (squares / residual ** 2 - traceP));
  const table = [
    ...factors.map((i) => [...(norms[i] ?? []), withResidual[i] ?? 0]),
    [...withResidual, residualWithItself],
  ];
  return { score, information: Float64Array.from(table.flat(), (value) => value / 2) };
}

/** Squared length of Z_i'e: the sums of the residuals by level. */
function shareOfResiduals(
  { random }: MixedEquations,
  { residuals }: MixedSolution,
  factor: number,
): number {
  const { levels, count } = random[factor] ?? { levels: [], count: 0 };
  const totals = new Float64Array(count);
  residuals.forEach((value, row) => {
    const level = levels[row] ?? 0;
    totals[level] = (totals[level] ?? 0) + value;
  });
  return totals.reduce((total, value) => total + value * value, 0);
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
  const removed = turned.clone().mul(left);
  const removedByLevel = Array.from({ length: removed.rows }, (_, at) =>
    removed.getRow(at).reduce((total, value) => total + value, 0),
  );
  // Squared norm of diag(d) - turned left': the product is only ever formed narrow by narrow.
  const crossed = turned.transpose().mmul(left);
  const wideNorm = removedByLevel.reduce((total, own, at) => {
    const d = wideDiagonal[at] ?? 0;
    return total + d * d - 2 * d * own;
  }, Matrix.mul(crossed, crossed.transpose()).sum());

  const traces = random.map((_, i) =>
    i === wide
      ? wideDiagonal.reduce((total, d, at) => total + d - (removedByLevel[at] ?? 0), 0)
      : factorOf.reduce((total, f, at) => total + (f === i ? narrowBlock.get(at, at) : 0), 0),
  );
  const norm = (i: number, j: number): number => {
    if (i === wide && j === wide) return wideNorm;
    const block = i === wide || j === wide ? wideBlock : narrowBlock;
    const column = i === wide ? j : i;
    const row = i === wide || j === wide ? undefined : j;
    let total = 0;
    for (let a = 0; a < block.rows; a++) {
      if (row !== undefined && factorOf[a] !== row) continue;
      for (let b = 0; b < block.columns; b++) {
        if (factorOf[b] === column) total += block.get(a, b) ** 2;
      }
    }
    return total;
  };
  return {
    traces: traces.map((trace) => trace / residual),
    norms: random.map((_, i) => random.map((_, j) => norm(i, j) / residual ** 2)),
  };
}
