import { backwardInPlace, choleskyInPlace, forwardInPlace } from '../numbers/cholesky-in-place.ts';

/** Steps of the differences, and the longest way to go at once, where unknowns are logarithms of spreads. */
const DIFFERENCE = 0.08;
const LONGEST = 1;
/** Least curvature: a direction in which the density hardly bends is taken to be about 2 wide. */
const LEAST_CURVATURE = 0.25;

/**
 * Moves a point uphill one coordinate after another, each by a Newton step from differences (Press et al. 2007,
 * Numerical Recipes, 3rd ed., 5.7 and 9.7). A step that does not lead uphill is not taken.
 *
 * @param point is moved
 * @returns by how much the log density rose
 */
export function climbByCoordinate(
  density: (point: Float64Array) => number,
  point: Float64Array,
): number {
  const start = density(point);
  let here = start;
  for (let k = 0; k < point.length; k++) {
    const at = point[k] as number;
    point[k] = at + DIFFERENCE;
    const above = density(point);
    point[k] = at - DIFFERENCE;
    const below = density(point);
    const slope = (above - below) / (2 * DIFFERENCE);
    const curvature = (2 * here - above - below) / (DIFFERENCE * DIFFERENCE);
    const step = slope / Math.max(curvature, LEAST_CURVATURE);
    point[k] = at + Math.min(LONGEST, Math.max(-LONGEST, step));
    const there = density(point);
    if (there > here) here = there;
    else point[k] = at;
  }
  return here - start;
}

/**
 * Moves a point one Newton step uphill in all coordinates at once.
 *
 * @param point is moved, unless that would lead downhill
 * @returns the lower Cholesky factor of minus the second derivatives where the step began, row by row
 */
export function climbAtOnce(
  density: (point: Float64Array) => number,
  point: Float64Array,
): Float64Array {
  const size = point.length;
  const here = density(point);
  const tried = Float64Array.from(point);
  const at = (moves: readonly (readonly [number, number])[]): number => {
    tried.set(point);
    for (const [k, by] of moves) tried[k] = (tried[k] as number) + by;
    return density(tried);
  };
  const step = new Float64Array(size);
  const factor = new Float64Array(size * size);
  const above = new Float64Array(size);
  for (let k = 0; k < size; k++) {
    above[k] = at([[k, DIFFERENCE]]);
    const below = at([[k, -DIFFERENCE]]);
    step[k] = ((above[k] as number) - below) / (2 * DIFFERENCE);
    const curvature = (2 * here - (above[k] as number) - below) / (DIFFERENCE * DIFFERENCE);
    factor[k * size + k] = Math.max(curvature, LEAST_CURVATURE);
    for (let other = 0; other < k; other++) {
      const both = at([
        [k, DIFFERENCE],
        [other, DIFFERENCE],
      ]);
      const apart = (above[k] as number) + (above[other] as number) - here;
      factor[k * size + other] = (apart - both) / (DIFFERENCE * DIFFERENCE);
    }
  }
  keepPositive(factor, size);
  choleskyInPlace(factor, size);
  forwardInPlace(factor, size, step);
  backwardInPlace(factor, size, step);
  const longest = Math.max(...step.map(Math.abs), LONGEST);
  tried.set(point);
  for (let k = 0; k < size; k++)
    tried[k] = (tried[k] as number) + ((step[k] as number) * LONGEST) / longest;
  if (density(tried) > here) point.set(tried);
  return factor;
}

/** Shrinks what is off the diagonal until the matrix is well clear of not being positive definite. */
function keepPositive(lower: Float64Array, size: number): void {
  for (let times = 0; times < 20; times++) {
    const tried = Float64Array.from(lower);
    choleskyInPlace(tried, size);
    let isPositive = true;
    for (let k = 0; k < size; k++) {
      // A pivot that lost nearly all of its diagonal is one that rounding or differences left.
      if ((tried[k * size + k] as number) ** 2 < 0.02 * (lower[k * size + k] as number)) {
        isPositive = false;
      }
    }
    if (isPositive) return;
    for (let row = 0; row < size; row++) {
      for (let column = 0; column < row; column++) {
        lower[row * size + column] = 0.7 * (lower[row * size + column] as number);
      }
    }
  }
}
