import { CholeskyDecomposition, EigenvalueDecomposition, Matrix } from 'ml-matrix';
import { numberAt } from '../numbers/number-at.ts';

/** Lowest and highest relative error, as a share: -0.02 is a standard error 2 % too small. */
export type ErrorRange = { readonly lowest: number; readonly highest: number };

export type QuasiVariances = {
  /**
   * By item: variances to be added as if estimates were independent. At most one can be negative.
   */
  readonly variances: readonly number[];
  /** By item: their square roots; absent where the variance is negative. */
  readonly standardErrors: readonly (number | undefined)[];
  /** Relative errors of the standard errors that they give for differences between two items. */
  readonly differences: ErrorRange;
  /** The same for all contrasts whatever. */
  readonly contrasts: ErrorRange;
};

/**
 * Quasi-variances: one number per item, such that the variance of the difference between any two
 * items is nearly the sum of theirs, so that a table needs no covariances.
 *
 * They minimise the sum over pairs of (log(q_i + q_j) - log var(difference))^2, with var = v_ii +
 * v_jj - 2 v_ij. For three items they are exact; for two, which do not determine them, each is
 * half.
 *
 * Source: Firth and de Menezes 2004, Quasi-variances, Biometrika 91:65-80; the worst error over all
 * contrasts is an extreme eigenvalue (their section 3, as cited from memory). Method: Gauss-Newton
 * with step halving from the least squares fit to the variances themselves.
 *
 * @param covariance symmetric, of estimates whose differences can be estimated, in any
 *   parametrisation
 * @returns undefined for fewer than two items
 * @throws RangeError if the difference between two items has no positive variance
 */
export function quasiVariances(
  covariance: readonly (readonly number[])[],
): QuasiVariances | undefined {
  if (covariance.length < 2) return undefined;
  const target = differenceVariances(covariance);
  const start = leastSquares(target);
  const variances = improved(target, isAdmissible(start) ? start : evenShare(target));
  return {
    variances,
    standardErrors: variances.map((variance) => (variance < 0 ? undefined : Math.sqrt(variance))),
    differences: differenceErrors(target, variances),
    contrasts: contrastErrors(covariance, variances),
  };
}

function differenceVariances(covariance: readonly (readonly number[])[]): Matrix {
  const given = new Matrix(covariance.map((row) => [...row]));
  const size = given.rows;
  const target = Matrix.zeros(size, size);
  for (let i = 0; i < size; i++) {
    for (let j = 0; j < size; j++) {
      if (i === j) continue;
      const variance = given.get(i, i) + given.get(j, j) - given.get(i, j) - given.get(j, i);
      if (!(variance > 0 && Number.isFinite(variance))) {
        throw new RangeError(`the difference between ${i} and ${j} has no positive variance`);
      }
      target.set(i, j, variance);
    }
  }
  return target;
}

/** Minimises the sum over pairs of (q_i + q_j - variance)^2; closed form. */
function leastSquares(target: Matrix): number[] {
  const size = target.rows;
  if (size === 2) return evenShare(target);
  const rows = target.sum('row');
  const total = rows.reduce((sum, row) => sum + row, 0) / (2 * (size - 1));
  return rows.map((row) => (row - total) / (size - 2));
}

/** Half the mean variance of an item's differences: never negative. */
function evenShare(target: Matrix): number[] {
  return target.sum('row').map((row) => row / (2 * (target.rows - 1)));
}

/** Whether every two sum to a positive number, that is the lowest two do. */
function isAdmissible(variances: readonly number[]): boolean {
  const [lowest = 0, next = 0] = [...variances].sort((a, b) => a - b);
  return lowest + next > 0;
}

function improved(target: Matrix, start: readonly number[]): number[] {
  let variances = [...start];
  if (target.rows === 2) return variances;
  let badness = squaredError(target, variances);
  for (let iteration = 0; iteration < 100; iteration++) {
    const step = gaussNewtonStep(target, variances);
    const next = downhill(target, variances, step, badness);
    if (next === undefined) break;
    const change = step.reduce((most, part) => Math.max(most, Math.abs(part)), 0);
    variances = next;
    badness = squaredError(target, variances);
    if (change <= 1e-14 * Math.max(...variances)) break;
  }
  return variances;
}

function squaredError(target: Matrix, variances: readonly number[]): number {
  let sum = 0;
  for (let i = 0; i < target.rows; i++) {
    for (let j = 0; j < i; j++) {
      sum += Math.log((numberAt(variances, i) + numberAt(variances, j)) / target.get(i, j)) ** 2;
    }
  }
  return sum;
}

function gaussNewtonStep(target: Matrix, variances: readonly number[]): number[] {
  const size = target.rows;
  const normal = Matrix.zeros(size, size);
  const slopes = Matrix.zeros(size, 1);
  for (let i = 0; i < size; i++) {
    for (let j = 0; j < size; j++) {
      if (i === j) continue;
      const sum = numberAt(variances, i) + numberAt(variances, j);
      normal.set(i, j, 1 / sum ** 2);
      normal.set(i, i, normal.get(i, i) + 1 / sum ** 2);
      slopes.set(i, 0, slopes.get(i, 0) + Math.log(target.get(i, j) / sum) / sum);
    }
  }
  return new CholeskyDecomposition(normal).solve(slopes).to1DArray();
}

function downhill(
  target: Matrix,
  from: readonly number[],
  step: readonly number[],
  badness: number,
): number[] | undefined {
  for (let fraction = 1; fraction > 1e-10; fraction /= 2) {
    const next = from.map((variance, i) => variance + fraction * numberAt(step, i));
    if (isAdmissible(next) && squaredError(target, next) <= badness * (1 + 1e-12)) return next;
  }
  return undefined;
}

function differenceErrors(target: Matrix, variances: readonly number[]): ErrorRange {
  let lowest = Number.POSITIVE_INFINITY;
  let highest = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < target.rows; i++) {
    for (let j = 0; j < i; j++) {
      const sum = numberAt(variances, i) + numberAt(variances, j);
      const error = Math.sqrt(sum / target.get(i, j)) - 1;
      lowest = Math.min(lowest, error);
      highest = Math.max(highest, error);
    }
  }
  return { lowest, highest };
}

/**
 * Over contrasts c, the range of c'Qc / c'Vc: the eigenvalues of Q against V on differences from
 * the first.
 */
function contrastErrors(
  covariance: readonly (readonly number[])[],
  variances: readonly number[],
): ErrorRange {
  const given = onDifferences(new Matrix(covariance.map((row) => [...row])));
  const quasi = onDifferences(Matrix.diag([...variances]));
  const lower = new CholeskyDecomposition(given).lowerTriangularMatrix;
  const half = forwardSolve(lower, quasi);
  const whole = forwardSolve(lower, half.transpose());
  const ratios = new EigenvalueDecomposition(whole, { assumeSymmetric: true }).realEigenvalues;
  const errors = ratios.map((ratio) => Math.sqrt(Math.max(0, ratio)) - 1);
  return { lowest: Math.min(...errors), highest: Math.max(...errors) };
}

/** Covariance of the differences from the first item, symmetric to the last bit. */
function onDifferences(given: Matrix): Matrix {
  const size = given.rows - 1;
  const result = Matrix.zeros(size, size);
  const from = (i: number, j: number) =>
    given.get(i, j) - given.get(i, 0) - given.get(0, j) + given.get(0, 0);
  for (let i = 0; i < size; i++) {
    for (let j = 0; j <= i; j++) {
      const value = (from(i + 1, j + 1) + from(j + 1, i + 1)) / 2;
      result.set(i, j, value);
      result.set(j, i, value);
    }
  }
  return result;
}

/** Solves lower X = right. */
function forwardSolve(lower: Matrix, right: Matrix): Matrix {
  const solution = right.clone();
  for (let column = 0; column < right.columns; column++) {
    for (let row = 0; row < right.rows; row++) {
      let rest = solution.get(row, column);
      for (let k = 0; k < row; k++) rest -= lower.get(row, k) * solution.get(k, column);
      solution.set(row, column, rest / lower.get(row, row));
    }
  }
  return solution;
}
