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
  /** what remains of any vector of one value a row, as `residuals` remain of y */
  readonly residualsOf: (vector: Float64Array) => Float64Array;
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
  const parts = split(equations, taken, narrowCovariance, equations.y);
  const freedom = rows - fixedColumns;
  const logDeterminant =
    cholesky.lowerTriangularMatrix
      .diagonal()
      .reduce((total, entry) => total + 2 * Math.log(entry), 0) +
    wideCounts.reduce((total, count) => total + Math.log1p(count * wideRatio), 0);
  const residual = penalizedSquares(equations, parts, ratios) / freedom;
  return {
    ...parts,
    ratios,
    residual,
    logLikelihood: -0.5 * (freedom * (Math.log(2 * Math.PI * residual) + 1) + logDeterminant),
    narrowCovariance,
    taken,
    reduced,
    residualsOf: (vector) => split(equations, taken, narrowCovariance, vector).residuals,
  };
}

/** A vector of one value a row, split into fixed effects, predictions and what remains. */
interface Parts {
  readonly narrow: Float64Array;
  readonly wide: Float64Array;
  readonly residuals: Float64Array;
}

function split(
  equations: MixedEquations,
  taken: Float64Array,
  narrowCovariance: Matrix,
  vector: Float64Array,
): Parts {
  const { visitRow, factorOf } = equations;
  const levels = equations.random[equations.wide]?.levels ?? [];
  const level = (row: number): number => levels[row] ?? 0;
  const totalsOf = (values: Float64Array): Float64Array => {
    const totals = new Float64Array(taken.length);
    values.forEach((value, row) => {
      totals[level(row)] = (totals[level(row)] ?? 0) + value;
    });
    return totals;
  };

  const totals = totalsOf(vector);
  const right = new Float64Array(factorOf.length);
  vector.forEach((value, row) => {
    const left = value - (taken[level(row)] ?? 0) * (totals[level(row)] ?? 0);
    visitRow(row, (column, weight) => {
      right[column] = (right[column] ?? 0) + weight * left;
    });
  });
  const narrow = Float64Array.from(narrowCovariance.mmul(Matrix.columnVector(right)).to1DArray());
  const rest = vector.map((value, row) => {
    let remaining = value;
    visitRow(row, (column, weight) => {
      remaining -= weight * (narrow[column] ?? 0);
    });
    return remaining;
  });
  const wide = totalsOf(rest).map((total, at) => total * (taken[at] ?? 0));
  return { narrow, wide, residuals: rest.map((value, row) => value - (wide[level(row)] ?? 0)) };
}

/** y'Py in units of the residual variance: squared residuals plus squared effects over their ratio. */
function penalizedSquares(
  { wide, factorOf }: MixedEquations,
  parts: Parts,
  ratios: readonly number[],
): number {
  const squares = (values: Float64Array): number =>
    values.reduce((total, value) => total + value * value, 0);
  return ratios.reduce((total, ratio, factor) => {
    if (ratio === 0) return total;
    const own = parts.narrow.filter((_, at) => factorOf[at] === factor);
    return total + squares(factor === wide ? parts.wide : own) / ratio;
  }, squares(parts.residuals));
}
