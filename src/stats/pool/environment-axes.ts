import { EigenvalueDecomposition, Matrix } from 'ml-matrix';
import type { EnvironmentFindings } from './pooled-trials.ts';

/** Of the greatest: errors are never taken to be less along any axis. */
const LEAST = 1e-9;

/**
 * An environment turned to the axes along which its errors are independent: there, adding the same variance to every
 * item and trying another one costs a sum and no inverse.
 */
export interface EnvironmentAxes {
  readonly items: Int32Array;
  /** Axes as rows: items x items. */
  readonly axes: Float64Array;
  /** Variance of the errors along each axis. */
  readonly variance: Float64Array;
  /** Along each axis: the values, and a level that all items share. */
  readonly value: Float64Array;
  readonly level: Float64Array;
}

export function environmentAxes({ items, mean, covariance }: EnvironmentFindings): EnvironmentAxes {
  const size = items.length;
  const matrix = Matrix.from1DArray(size, size, covariance);
  const eigen = new EigenvalueDecomposition(matrix, { assumeSymmetric: true });
  const found = Float64Array.from(eigen.realEigenvalues);
  const least = LEAST * Math.max(...found, Number.MIN_VALUE);
  const axes = Float64Array.from(eigen.eigenvectorMatrix.transpose().to1DArray());
  return {
    items: Int32Array.from(items),
    axes,
    variance: found.map((own) => Math.max(own, least)),
    value: along(axes, mean),
    level: along(axes, new Float64Array(size).fill(1)),
  };
}

/** The same vector along the axes. */
function along(axes: Float64Array, vector: Float64Array): Float64Array {
  const into = new Float64Array(vector.length);
  turnTo(axes, vector, into);
  return into;
}

/** Puts a vector along the axes into another. */
export function turnTo(axes: Float64Array, vector: Float64Array, into: Float64Array): void {
  const size = into.length;
  for (let axis = 0; axis < size; axis++) {
    let sum = 0;
    for (let at = 0; at < size; at++) {
      sum += (axes[axis * size + at] as number) * (vector[at] as number);
    }
    into[axis] = sum;
  }
}

/** And back: from along the axes to the items. */
export function turnBack(axes: Float64Array, turned: Float64Array, into: Float64Array): void {
  const size = into.length;
  into.fill(0);
  for (let axis = 0; axis < size; axis++) {
    const value = turned[axis] as number;
    for (let at = 0; at < size; at++) {
      into[at] = (into[at] as number) + value * (axes[axis * size + at] as number);
    }
  }
}
