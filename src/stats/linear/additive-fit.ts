import type { Matrix } from 'ml-matrix';
import type { Factor } from '../numbers/factor.ts';
import { requireFinite } from '../numbers/require-finite.ts';
import { sum } from '../numbers/sum.ts';
import { symmetricPseudoInverse } from '../numbers/symmetric-pseudo-inverse.ts';
import { type AdditiveLayout, additiveLayout } from './additive-layout.ts';

/**
 * Least squares for y = sum of one effect a factor. Effects, counts and directions are numbered by
 * the columns of `layout`; the effects are one solution out of many.
 */
export interface AdditiveFit {
  readonly layout: AdditiveLayout;
  readonly rank: number;
  /** rows - rank */
  readonly df: number;
  readonly residualSumOfSquares: number;
  readonly fitted: Float64Array;
  readonly effects: Float64Array;
  /** directions in the effects that change no fitted value */
  readonly nullSpace: readonly Float64Array[];
  /**
   * Covariances, in units of the residual variance, of the estimable combinations that are `shared`
   * (one weight a column) plus one more of each explicit column in `own`.
   */
  readonly covariances: (shared: Float64Array, own: readonly number[]) => number[][];
}

/**
 * Least-squares fit of an additive model with any number of crossed factors and any layout.
 *
 * Method: the factor with the most levels is absorbed, that is its effects are swept out of the
 * normal equations level by level (Searle 1971, Linear Models, section 7.1), so that thousands of
 * its levels cost little more than passes over the rows. What is left is solved by a generalized
 * inverse that also tells the rank, and refined once by solving again for the residuals.
 *
 * Units: effects and fitted values in those of y.
 *
 * @param y one finite value a row, at least one
 * @param factors one or more; a level that no row has gets effect 0
 * @param keep index of a factor that must not be absorbed, for its covariances
 * @throws RangeError if sizes do not match, a level is out of bounds, or y is empty or not finite
 */
export function additiveFit(
  y: readonly number[],
  factors: readonly Factor[],
  keep?: number,
): AdditiveFit {
  requireFinite('y', y);
  if (y.length === 0 || factors.length === 0) throw new RangeError('no rows or no factors');
  const layout = additiveLayout(y.length, factors, keep);
  const { explicitColumns, counts } = layout;
  const scale = Float64Array.from(explicitColumns, (column) => counts[column] ?? 0);
  const { inverse, nullSpace, rank } = symmetricPseudoInverse(reducedMatrix(layout), scale);

  const average = sum(y) / y.length;
  const residuals = Float64Array.from(y, (value) => value - average);
  const scatter = sumOfSquares(residuals);
  const effects = new Float64Array(layout.columns);
  // The second round corrects the rounding of the first.
  for (let round = 0; round < 2; round++) takeOffBestEffects(layout, inverse, residuals, effects);
  const absorbedLevels = new Set(layout.absorbed);
  for (const column of absorbedLevels) add(effects, column, average);

  // What rounding leaves of a perfect fit is no error variance.
  const remaining = sumOfSquares(residuals);
  const fullRank = rank + absorbedLevels.size;
  return {
    layout,
    rank: fullRank,
    df: y.length - fullRank,
    residualSumOfSquares: remaining <= 1e-26 * scatter ? 0 : remaining,
    fitted: residuals.map((residual, row) => (y[row] ?? 0) - residual),
    effects,
    nullSpace: directions(layout, nullSpace),
    covariances: (shared, own) => covariances(layout, inverse, shared, own),
  };
}

function add(values: Float64Array, at: number, amount: number): void {
  values[at] = (values[at] ?? 0) + amount;
}

function sumOfSquares(values: Float64Array): number {
  return sum(Array.from(values, (value) => value * value));
}

/** X'X - X'Z (Z'Z)^-1 Z'X, X the explicit columns, Z the absorbed ones. */
function reducedMatrix({ rows, columns, absorbed, places, explicitColumns }: AdditiveLayout) {
  const size = explicitColumns.length;
  const matrix = new Float64Array(size * size);
  const rowsByLevel = Array.from({ length: columns }, (): number[] => []);
  for (let row = 0; row < rows; row++) {
    rowsByLevel[absorbed[row] ?? 0]?.push(row);
    for (const left of places) {
      for (const right of places) add(matrix, (left[row] ?? 0) * size + (right[row] ?? 0), 1);
    }
  }
  const inLevel = new Float64Array(size);
  for (const level of rowsByLevel) {
    const touched = new Set<number>();
    for (const row of level) {
      for (const list of places) {
        const place = list[row] ?? 0;
        touched.add(place);
        add(inLevel, place, 1);
      }
    }
    for (const i of touched) {
      const share = (inLevel[i] ?? 0) / level.length;
      for (const j of touched) add(matrix, i * size + j, -share * (inLevel[j] ?? 0));
    }
    for (const i of touched) inLevel[i] = 0;
  }
  return matrix;
}

/** Mean of a value over the rows of each absorbed column. */
function absorbedMeans(layout: AdditiveLayout, rowValue: (row: number) => number): Float64Array {
  const { rows, columns, absorbed, counts } = layout;
  const totals = new Float64Array(columns);
  for (let row = 0; row < rows; row++) add(totals, absorbed[row] ?? 0, rowValue(row));
  return totals.map((total, column) => (total === 0 ? 0 : total / (counts[column] ?? 1)));
}

const explicitPart = (places: readonly Int32Array[], values: ArrayLike<number>, row: number) =>
  places.reduce((total, list) => total + (values[list[row] ?? 0] ?? 0), 0);

function times(matrix: Matrix, vector: Float64Array): Float64Array {
  return Float64Array.from(vector, (_, i) =>
    vector.reduce((total, value, j) => total + matrix.get(i, j) * value, 0),
  );
}

/** Solves for the residuals, adds the solution to the effects and takes it off the residuals. */
function takeOffBestEffects(
  layout: AdditiveLayout,
  inverse: Matrix,
  residuals: Float64Array,
  effects: Float64Array,
): void {
  const { absorbed, places, explicitColumns } = layout;
  const means = absorbedMeans(layout, (row) => residuals[row] ?? 0);
  const right = new Float64Array(explicitColumns.length);
  for (const list of places) {
    list.forEach((place, row) => {
      add(right, place, (residuals[row] ?? 0) - (means[absorbed[row] ?? 0] ?? 0));
    });
  }
  const explicit = times(inverse, right);
  residuals.forEach((_, row) => {
    add(residuals, row, -explicitPart(places, explicit, row));
  });
  const swept = absorbedMeans(layout, (row) => residuals[row] ?? 0);
  residuals.forEach((_, row) => {
    add(residuals, row, -(swept[absorbed[row] ?? 0] ?? 0));
  });
  explicit.forEach((value, place) => {
    add(effects, explicitColumns[place] ?? 0, value);
  });
  swept.forEach((value, column) => {
    add(effects, column, value);
  });
}

/** The null space of the reduced equations, with what the absorbed effects must do to balance it. */
function directions(layout: AdditiveLayout, nullSpace: Matrix | undefined): Float64Array[] {
  if (nullSpace === undefined) return [];
  return Array.from({ length: nullSpace.columns }, (_, at) => {
    const explicit = nullSpace.getColumn(at);
    const direction = absorbedMeans(layout, (row) => -explicitPart(layout.places, explicit, row));
    for (const [place, column] of layout.explicitColumns.entries()) {
      direction[column] = explicit[place] ?? 0;
    }
    return direction;
  });
}

/**
 * With d the weights on absorbed columns and c those on explicit ones, the variance is
 * (c - X'Z D^-1 d)' G (c - X'Z D^-1 d) + d' D^-1 d, D = Z'Z: the two parts are independent.
 */
function covariances(
  layout: AdditiveLayout,
  inverse: Matrix,
  shared: Float64Array,
  own: readonly number[],
): number[][] {
  const { absorbed, places, explicitColumns, counts } = layout;
  const weights = Float64Array.from(explicitColumns, (column) => shared[column] ?? 0);
  for (const list of places) {
    list.forEach((place, row) => {
      const column = absorbed[row] ?? 0;
      add(weights, place, -(shared[column] ?? 0) / (counts[column] ?? 1));
    });
  }
  const turned = times(inverse, weights);
  let common = weights.reduce((total, weight, place) => total + weight * (turned[place] ?? 0), 0);
  for (const column of new Set(absorbed)) {
    common += (shared[column] ?? 0) ** 2 / (counts[column] ?? 1);
  }
  const ownPlaces = own.map((column) => explicitColumns.indexOf(column));
  return ownPlaces.map((i) =>
    ownPlaces.map((j) => inverse.get(i, j) + (turned[i] ?? 0) + (turned[j] ?? 0) + common),
  );
}
