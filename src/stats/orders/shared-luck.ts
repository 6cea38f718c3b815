import type { Matrix } from 'ml-matrix';
import type { Curvature } from '../numbers/newton-maximum.ts';

/**
 * How many times larger variances are than for independent choices, where choices of one cluster
 * share something that the model does not know (such as the luck of a plate that several tasters
 * put in order); never below 1, and 1 with a single cluster, which tells nothing.
 *
 * Formula: the mean generalised design effect tr(V J1) / tr(V J) of Rao & Scott (1981, Journal of
 * the American Statistical Association 76:221-230): V the covariance of the parameters, J the
 * information of the choices, J1 the sum over clusters of the outer products of their slopes at the
 * maximum, times clusters / (clusters - 1).
 *
 * @param covariance of the parameters, from all that they are estimated from
 * @param clusters slopes and information of each cluster's choices, at the maximum
 */
export function sharedLuck(covariance: Matrix, clusters: readonly Curvature[]): number {
  if (clusters.length < 2) return 1;
  let [squares, information] = [0, 0];
  for (const { gradient, information: own } of clusters) {
    for (let row = 0; row < covariance.rows; row++) {
      for (let column = 0; column < covariance.columns; column++) {
        const shared = covariance.get(row, column);
        squares += shared * (gradient[row] ?? 0) * (gradient[column] ?? 0);
        information += shared * own.get(row, column);
      }
    }
  }
  if (!(information > 0)) return 1;
  return Math.max(1, ((clusters.length / (clusters.length - 1)) * squares) / information);
}
