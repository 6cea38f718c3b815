import { CholeskyDecomposition, Matrix } from 'ml-matrix';
import type { MixedEquations } from './mixed-equations.ts';

/** Solution of the mixed model equations for given variance ratios. */
export interface MixedSolution {
  /** variance of each random factor as a multiple of the residual variance */
  readonly ratios: readonly number[];
  /** the residual variance that is likeliest for these ratios */
  readonly residual: number;
  readonly logLikelihood: number;
  /** estimates of fixed effects and predictions, by narrow column */
  readonly narrow: Float64Array;
  /** predictions, by wide level */
  readonly wide: Float64Array;
  readonly residuals: Float64Array;
  /** covariances of `narrow`, minus the true effects, in units of the residual variance */
  readonly narrowCovariance: Matrix;
  /** ratio / (1 + count ratio) by wide level: how far the wide factor takes off what it shares */
  readonly taken: Float64Array;
  /** products of the narrow columns that are left after the wide factor */
  readonly reduced: Matrix;
}

/**
 * Solves the mixed model equations at given variance ratios, with the residual variance profiled out.
 *
 * Formula: each random effect is written as the root of its ratio times an effect of unit variance,
 * so that a ratio of zero needs no special case: C = L (W'W) L + J, W = [X Z], L = diag(1, root of
 * ratio), J = diag(0, 1) (Henderson 1975, Biometrics 31:423-447). The residual log-likelihood is
 *   -1/2 [(n - p) (log(2 pi s2) + 1) + log det C]
 * (Patterson & Thompson 1971, Biometrika 58:545-554), with the constant that leaves out X'X.
 *
 * @param ratios one for each random factor, 0 or above
 * @returns `undefined` if a ratio is so great that rounding leaves nothing of the equations
 */
export function mixedSolution(
  equations: MixedEquations,
  ratios: readonly number[],
): MixedSolution | undefined {
  const { rows, fixedColumns, wideCounts, factorOf, narrowProducts, crossProducts } = equations;
  const wideRatio = ratios[equations.wide] ?? 0;
  const taken = wideCounts.map((count) => wideRatio / (1 + count * wideRatio));
  const reduced = Matrix.sub(
    narrowProducts,
    crossProducts.transpose().mmul(crossProducts.clone().mulColumnVector(taken)),
  );
  const roots = factorOf.map((factor) => (factor < 0 ? 1 : Math.sqrt(ratios[factor] ?? 0)));
  const lopsided = reduced.clone().mulRowVector(roots).mulColumnVector(roots);
  // Rounding alone makes the two halves differ, which the decomposition would not take.
  const scaled = Matrix.add(lopsided, lopsided.transpose()).mul(0.5);
  factorOf.forEach((factor, column) => {
    if (factor >= 0) scaled.set(column, column, scaled.get(column, column) + 1);
  });
  const cholesky = new CholeskyDecomposition(scaled);
  if (!cholesky.isPositiveDefinite()) return undefined;
  const inverse = cholesky.solve(Matrix.eye(factorOf.length));
  const narrowCovariance = inverse.mulRowVector(roots).mulColumnVector(roots);
  const estimates = estimate(equations, taken, narrowCovariance);
  const { penalty, residuals } = estimates;
  const freedom = rows - fixedColumns;
  const logDeterminant =
    cholesky.lowerTriangularMatrix
      .diagonal()
      .reduce((total, entry) => total + 2 * Math.log(entry), 0) +
    wideCounts.reduce((total, count) => total + Math.log1p(count * wideRatio), 0);
  const squares = residuals.reduce((total, value) => total + value * value, 0);
  const residual = (squares + penalty(ratios)) / freedom;
  return {
    ...estimates,
    ratios,
    residual,
    logLikelihood: -0.5 * (freedom * (Math.log(2 * Math.PI * residual) + 1) + logDeterminant),
    narrowCovariance,
    taken,
    reduced,
  };
}

function estimate(equations: MixedEquations, taken: Float64Array, narrowCovariance: Matrix) {
  const { y, visitRow, factorOf } = equations;
  const levels = equations.random[equations.wide]?.levels ?? [];
  const level = (row: number): number => levels[row] ?? 0;

  const totals = new Float64Array(taken.length);
  y.forEach((value, row) => {
    totals[level(row)] = (totals[level(row)] ?? 0) + value;
  });
  const right = new Float64Array(factorOf.length);
  y.forEach((value, row) => {
    const left = value - (taken[level(row)] ?? 0) * (totals[level(row)] ?? 0);
    visitRow(row, (column, weight) => {
      right[column] = (right[column] ?? 0) + weight * left;
    });
  });
  const narrow = Float64Array.from(narrowCovariance.mmul(Matrix.columnVector(right)).to1DArray());

  const rest = y.map((value, row) => {
    let remaining = value;
    visitRow(row, (column, weight) => {
      remaining -= weight * (narrow[column] ?? 0);
    });
    return remaining;
  });
  totals.fill(0);
  rest.forEach((value, row) => {
    totals[level(row)] = (totals[level(row)] ?? 0) + value;
  });
  const wide = totals.map((total, at) => total * (taken[at] ?? 0));
  const residuals = rest.map((value, row) => value - (wide[level(row)] ?? 0));
  const penalty = (ratios: readonly number[]): number =>
    ratios.reduce((total, ratio, factor) => {
      if (ratio === 0) return total;
      const effects =
        factor === equations.wide ? wide : narrow.filter((_, at) => factorOf[at] === factor);
      return total + effects.reduce((sum, effect) => sum + effect * effect, 0) / ratio;
    }, 0);
  return { narrow, wide, residuals, penalty };
}
