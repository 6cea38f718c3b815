import { EigenvalueDecomposition, inverse, Matrix } from 'ml-matrix';
import { meanOfDraws } from '../mixed/mean-of-draws.ts';

/** Reliability below which an axis is not told apart from noise: dividing by less would blow noise up. */
const LEAST = 0.15;

/** Values with errors of known covariance, row by row. */
export interface Unshrunk {
  readonly mean: Float64Array;
  readonly covariance: Float64Array;
}

/**
 * What was seen of each of some items by itself, from draws in which all were reckoned with as N(level, spread²), any
 * level, before they were looked at.
 *
 * As in the deregressed proofs of animal breeding (Garrick, Taylor and Fernando 2009, Genetics Selection Evolution
 * 41:55), here for all items at once: along each axis of their differences what the draws leave of the variance
 * reckoned with beforehand says how far they were drawn in, r = 1 - variance / spread², so the mean is divided by r,
 * and the variance too. The level, which nothing drew in, stays as it is.
 *
 * @param draws by item, at least one; draw d of all belongs together
 * @param strangers draws of two items of which nothing was seen: how far they differ is the prior's spread
 */
export function unshrunk(
  draws: readonly Float64Array[],
  strangers: readonly [Float64Array, Float64Array],
): Unshrunk {
  return freed(momentsOf(draws), varianceBetween(strangers));
}

/** @param spread variance between items that was reckoned with beforehand */
export function freed({ mean, covariance }: Unshrunk, spread: number): Unshrunk {
  const size = mean.length;
  const all = Matrix.from1DArray(size, size, covariance);
  const centre = Matrix.eye(size, size).sub(1 / size);
  const { values, vectors } = eigenOf(centre.mmul(all).mmul(centre));
  const reliability = values.map((own) => Math.max(1 - own / spread, LEAST));
  const within = (turn: (value: number, at: number) => number) =>
    vectors.mmul(Matrix.diag(values.map(turn))).mmul(vectors.transpose());
  const middle = Matrix.columnVector(mean);
  const apart = within((_, at) => 1 / (reliability[at] as number)).mmul(centre.mmul(middle));
  // The level that has no error in common with any difference: weights by the inverse covariance.
  const one = Matrix.ones(size, 1);
  const weights = inverse(all).mmul(one);
  const precision = weights.sum();
  weights.div(precision);
  const shift = weights.dot(middle) - weights.dot(apart);
  const levelled = Matrix.eye(size, size).sub(one.mmul(weights.transpose()));
  const differences = within((own, at) => Math.max(own, 0) / (reliability[at] as number));
  const known = levelled
    .mmul(differences)
    .mmul(levelled.transpose())
    .add(1 / precision);
  return {
    mean: Float64Array.from(apart.to1DArray(), (own) => own + shift),
    covariance: Float64Array.from(known.to1DArray()),
  };
}

/** Mean and covariance of draws. */
export function momentsOf(draws: readonly Float64Array[]): Unshrunk {
  const size = draws.length;
  const mean = Float64Array.from(draws, meanOfDraws);
  const covariance = new Float64Array(size * size);
  draws.forEach((own, row) => {
    for (let column = 0; column <= row; column++) {
      const other = draws[column] as Float64Array;
      const [a, b] = [mean[row] as number, mean[column] as number];
      let sum = 0;
      for (let d = 0; d < own.length; d++) {
        sum += ((own[d] as number) - a) * ((other[d] as number) - b);
      }
      covariance[row * size + column] = sum / own.length;
      covariance[column * size + row] = sum / own.length;
    }
  });
  return { mean, covariance };
}

/** Half the variance of the difference of two. */
export function varianceBetween([one, other]: readonly [Float64Array, Float64Array]): number {
  const differences = one.map((value, d) => value - (other[d] as number));
  const middle = meanOfDraws(differences);
  return meanOfDraws(differences.map((value) => (value - middle) ** 2)) / 2;
}

function eigenOf(matrix: Matrix): { readonly values: readonly number[]; readonly vectors: Matrix } {
  const eigen = new EigenvalueDecomposition(matrix, { assumeSymmetric: true });
  return { values: eigen.realEigenvalues, vectors: eigen.eigenvectorMatrix };
}
