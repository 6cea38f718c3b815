import { EigenvalueDecomposition, Matrix } from 'ml-matrix';

/** A generalized inverse, and what the matrix sends to zero. */
export interface SymmetricPseudoInverse {
  /** G with A G A = A and G A G = G, symmetric */
  readonly inverse: Matrix;
  /** one column a direction that the matrix sends to zero; absent if there is none */
  readonly nullSpace: Matrix | undefined;
  readonly rank: number;
}

/** Scaled eigenvalues run up to the number of factors; those of connected layouts stay far above. */
const ZERO = 1e-9;

/**
 * Generalized inverse and null space of a symmetric matrix without negative eigenvalues.
 *
 * Method: eigenvectors of the matrix scaled to comparable rows, D^-1/2 A D^-1/2; scaled eigenvalues
 * below 1e-9 count as zero (Searle 1971, Linear Models, sections 1.1 and 1.5).
 *
 * @param matrix k by k, in rows one after another; not modified
 * @param scale the k diagonal entries of D, above 0
 * @throws RangeError if the sizes do not match
 */
export function symmetricPseudoInverse(
  matrix: Float64Array,
  scale: Float64Array,
): SymmetricPseudoInverse {
  const size = scale.length;
  if (matrix.length !== size * size) {
    throw new RangeError(`${matrix.length} entries do not make a matrix of ${size} rows`);
  }
  if (size === 0) return { inverse: new Matrix(0, 0), nullSpace: undefined, rank: 0 };
  const shrink = scale.map((entry) => 1 / Math.sqrt(entry));
  const scaled = Matrix.zeros(size, size);
  for (let i = 0; i < size; i++) {
    for (let j = 0; j < size; j++) {
      scaled.set(i, j, (matrix[i * size + j] ?? 0) * (shrink[i] ?? 0) * (shrink[j] ?? 0));
    }
  }
  const eigen = new EigenvalueDecomposition(scaled, { assumeSymmetric: true });
  const vectors = eigen.eigenvectorMatrix.mulColumnVector(shrink);
  const values = eigen.realEigenvalues;
  const nonZero = [...values.keys()].filter((at) => (values[at] ?? 0) > ZERO);
  const zero = [...values.keys()].filter((at) => (values[at] ?? 0) <= ZERO);
  const kept = vectors
    .subMatrixColumn(nonZero)
    .mulRowVector(nonZero.map((at) => 1 / Math.sqrt(values[at] ?? 1)));
  return {
    inverse: nonZero.length === 0 ? Matrix.zeros(size, size) : kept.mmul(kept.transpose()),
    nullSpace: zero.length === 0 ? undefined : vectors.subMatrixColumn(zero),
    rank: nonZero.length,
  };
}
