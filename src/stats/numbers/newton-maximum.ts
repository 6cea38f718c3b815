import { CholeskyDecomposition, Matrix } from 'ml-matrix';
import { numberAt } from './number-at.ts';

/** A concave function at a point: its value, slopes, and minus its second derivatives. */
export type Curvature = {
  readonly value: number;
  readonly gradient: Float64Array;
  readonly information: Matrix;
};

/** Where a search for a maximum ended. */
export type Maximum = {
  readonly point: Float64Array;
  readonly at: Curvature;
  readonly iterations: number;
  /** False if the steps had not become negligible when the search gave up or left the bounds. */
  readonly converged: boolean;
};

/**
 * Squared length of a step, in standard errors, at or below which it is the last: the error left is
 * of its square.
 */
const NEGLIGIBLE = 1e-12;
const MOST_ITERATIONS = 200;
const LONGEST_STEP = 5;

/**
 * Maximum of a concave function by Newton's method with step halving (Boyd and Vandenberghe 2004,
 * Convex Optimization, section 9.5).
 *
 * The information need not be positive definite everywhere: where it is not, a growing multiple of
 * the identity is added (Levenberg 1944, Quarterly of Applied Mathematics 2:164-168).
 *
 * @param evaluate the function; called once for every step tried
 * @param start where the search begins; not modified
 * @param bound the search ends when a coordinate is further than this from 0, as when there is no
 *   maximum
 */
export function newtonMaximum(
  evaluate: (point: Float64Array) => Curvature,
  start: Float64Array,
  bound: number,
): Maximum {
  let point: Float64Array = Float64Array.from(start);
  let at = evaluate(point);
  for (let iterations = 1; iterations <= MOST_ITERATIONS; iterations++) {
    const step = newtonStep(at);
    const decrement = at.gradient.reduce((sum, slope, i) => sum + slope * numberAt(step, i), 0);
    const last = decrement <= NEGLIGIBLE;
    const longest = step.reduce((most, change) => Math.max(most, Math.abs(change)), 0);
    const first = last || longest <= LONGEST_STEP ? 1 : LONGEST_STEP / longest;
    const next = climb(evaluate, point, at, step, first);
    if (next === undefined) return { point, at, iterations, converged: last };
    point = next.point;
    at = next.at;
    const outside = point.some((coordinate) => Math.abs(coordinate) > bound);
    if (last || outside) return { point, at, iterations, converged: last };
  }
  return { point, at, iterations: MOST_ITERATIONS, converged: false };
}

function newtonStep({ gradient, information }: Curvature): Float64Array {
  const slopes = Matrix.columnVector([...gradient]);
  const scale = Math.max(...information.diagonal(), Number.MIN_VALUE);
  for (let ridge = 0; ; ridge = ridge === 0 ? 1e-14 : ridge * 100) {
    const raised = Matrix.add(
      information,
      Matrix.eye(gradient.length, gradient.length, ridge * scale),
    );
    const cholesky = new CholeskyDecomposition(raised);
    if (cholesky.isPositiveDefinite()) return Float64Array.from(cholesky.solve(slopes).to1DArray());
    if (ridge > 1) throw new RangeError('the information matrix is not that of a concave function');
  }
}

/** The longest of step, step / 2, step / 4 ... that does not go downhill by more than rounding. */
function climb(
  evaluate: (point: Float64Array) => Curvature,
  from: Float64Array,
  { value }: Curvature,
  step: Float64Array,
  first: number,
): { point: Float64Array; at: Curvature } | undefined {
  const rounding = 1e-13 * (1 + Math.abs(value));
  for (let fraction = first; fraction > 1e-12; fraction /= 2) {
    const point = from.map((coordinate, i) => coordinate + fraction * numberAt(step, i));
    const at = evaluate(point);
    if (at.value >= value - rounding) return { point, at };
  }
  return undefined;
}
