import { EigenvalueDecomposition, inverse, Matrix } from 'ml-matrix';
import { median } from '../describe/quantile.ts';
import { meanOfDraws } from '../mixed/mean-of-draws.ts';

/** Reliability below which an axis is not told apart from noise: dividing by less would blow noise up. */
const LEAST = 0.15;

/** Values with errors of known covariance, row by row. */
export interface Unshrunk {
  readonly mean: Float64Array;
  readonly covariance: Float64Array;
}

/** Median of chi-square on one degree of freedom. */
const MIDDLE_SQUARE = 0.4549364;

/**
 * What was seen of each of some items by itself, from draws in which all were reckoned with as N(level, spread²), any
 * level, before they were looked at.
 *
 * As in the deregressed proofs of animal breeding (Garrick, Taylor and Fernando 2009, Genetics Selection Evolution
 * 41:55), here for all items at once: along each axis of their differences what the draws leave of the variance
 * reckoned with beforehand says how far they were drawn in, r = 1 - variance / spread², so the mean is divided by r,
 * and the variance too. The level, which nothing drew in, stays as it is.
 *
 * The spread is itself drawn, and with it how far the items stand apart. That moves all of them along their means and
 * says nothing of how much was seen of them; taken for missing evidence, it would blow up just the differences that
 * were seen best. So what is common to a draw and its mirror image varies along the means no more than elsewhere.
 *
 * @param draws by item, at least one; draw d of all belongs together, and the second half holds the mirror images of
 *   the first about what the rest of the chain makes of the items
 * @param strangers draws of two items of which nothing was seen: how far they differ is the prior's spread
 */
export function unshrunk(
  draws: readonly Float64Array[],
  strangers: readonly [Float64Array, Float64Array],
): Unshrunk {
  const { mean, covariance } = momentsOf(draws);
  const size = mean.length;
  const all = Matrix.from1DArray(size, size, covariance);
  const centre = Matrix.eye(size, size).sub(1 / size);
  const middle = Matrix.columnVector(mean);
  const alone = Matrix.from1DArray(size, size, momentsOf(draws.map(halfDifferences)).covariance);
  const common = evenAlong(
    centre.mmul(middle),
    centre.mmul(Matrix.sub(all, alone)).mmul(centre),
    size - 1,
  );
  const { values, vectors } = eigenOf(centre.mmul(alone).mmul(centre).add(common));
  const spread = varianceBetween(strangers);
  const reliability = values.map((own) =>
    own < (1 - LEAST) * spread ? Math.min(1, 1 - own / spread) : LEAST,
  );
  const within = (turn: (value: number, at: number) => number) =>
    vectors.mmul(Matrix.diag(values.map(turn))).mmul(vectors.transpose());
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

/** Of each pair of a draw and its mirror image: what one is off the middle of both. */
function halfDifferences(draws: Float64Array): Float64Array {
  const half = draws.length / 2;
  return draws.slice(0, half).map((value, d) => (value - (draws[half + d] as number)) / 2);
}

/**
 * A covariance that along one direction is no more than the mean of the others, and has nothing in common with them.
 *
 * @param axes how many directions there are, that one among them
 */
function evenAlong(direction: Matrix, covariance: Matrix, axes: number): Matrix {
  const length = direction.norm('frobenius');
  if (axes < 2 || length === 0) return covariance;
  const unit = Matrix.div(direction, length);
  const onto = unit.mmul(unit.transpose());
  const along = unit.dot(covariance.mmul(unit));
  const others = Math.max(0, (covariance.trace() - along) / (axes - 1));
  const off = Matrix.eye(direction.rows, direction.rows).sub(onto);
  return off
    .mmul(covariance)
    .mmul(off)
    .add(onto.mul(Math.min(along, others)));
}

/** Mean and covariance of draws. */
function momentsOf(draws: readonly Float64Array[]): Unshrunk {
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

/**
 * Half the variance of the difference of two, by its median: where the spread is hardly known, a few draws of a wide one
 * would make up most of the mean of the squares, and items be taken as drawn in less than most draws did.
 */
function varianceBetween([one, other]: readonly [Float64Array, Float64Array]): number {
  const squares = Array.from(one, (value, d) => (value - (other[d] as number)) ** 2);
  return (median(squares) as number) / MIDDLE_SQUARE / 2;
}

function eigenOf(matrix: Matrix): { readonly values: readonly number[]; readonly vectors: Matrix } {
  const eigen = new EigenvalueDecomposition(matrix, { assumeSymmetric: true });
  return { values: eigen.realEigenvalues, vectors: eigen.eigenvectorMatrix };
}
