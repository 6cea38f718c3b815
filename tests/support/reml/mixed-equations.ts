import { Matrix } from 'ml-matrix';
import { type Factor, requireLevels } from '../../../src/stats/numbers/factor.ts';
import { requireFinite } from '../../../src/stats/numbers/require-finite.ts';
import { symmetricPseudoInverse } from '../../../src/stats/numbers/symmetric-pseudo-inverse.ts';

/** A mixed model: y = fixed b + one random effect a factor + residual. */
export interface MixedModelInput {
  readonly y: readonly number[];
  /** one row of fixed-effect columns for each value; the columns linearly independent */
  readonly fixed: readonly (readonly number[])[];
  /** one or more; the effects of each have a variance of their own */
  readonly random: readonly Factor[];
}

/**
 * Sums and products that the mixed model equations need, computed once. The random factor with the
 * most levels is kept apart ("wide"), since its equations are diagonal; the fixed columns and the
 * levels of the other random factors are the "narrow" columns.
 */
export interface MixedEquations {
  readonly rows: number;
  readonly fixedColumns: number;
  /** fixed effects by plain least squares, already taken off `y` */
  readonly start: readonly number[];
  readonly y: Float64Array;
  readonly random: readonly Factor[];
  /** index of the wide factor in `random` */
  readonly wide: number;
  /** rows of each wide level */
  readonly wideCounts: Float64Array;
  /** for each narrow column its factor in `random`, or -1 if it is fixed */
  readonly factorOf: readonly number[];
  /** first narrow column of each random factor; -1 for the wide one */
  readonly offsets: readonly number[];
  /** narrow by narrow */
  readonly narrowProducts: Matrix;
  /** wide levels by narrow */
  readonly crossProducts: Matrix;
  /** narrow columns of a row with weights, as a visitor */
  readonly visitRow: (row: number, visit: (column: number, weight: number) => void) => void;
}

/**
 * Sets up the mixed model equations (Henderson 1975, Biometrics 31:423-447).
 *
 * @throws RangeError if sizes do not match, a level is out of bounds, a number is not finite, there
 *   is no random factor, or the fixed columns are linearly dependent (nearly so counts: centre a
 *   year before adding its square)
 */
export function mixedEquations(input: MixedModelInput): MixedEquations {
  const { random, fixed } = input;
  const rows = input.y.length;
  const fixedColumns = fixed[0]?.length ?? 0;
  requireMixedModel(input, fixedColumns);
  const start = leastSquares(input.y, fixed, fixedColumns);
  const y = Float64Array.from(input.y, (value, row) =>
    start.reduce((rest, effect, column) => rest - effect * (fixed[row]?.[column] ?? 0), value),
  );

  const wide = random.reduce(
    (best, factor, at) => (factor.count > (random[best]?.count ?? 0) ? at : best),
    0,
  );
  const factorOf = new Array<number>(fixedColumns).fill(-1);
  const offsets = random.map((factor, at) => {
    if (at === wide) return -1;
    const offset = factorOf.length;
    for (let level = 0; level < factor.count; level++) factorOf.push(at);
    return offset;
  });
  const visitRow = rowVisitor(input, wide, offsets);
  return {
    rows,
    fixedColumns,
    start,
    y,
    random,
    wide,
    factorOf,
    offsets,
    ...sumsOfProducts(random[wide] ?? { levels: [], count: 0 }, factorOf.length, visitRow),
    visitRow,
  };
}

function sumsOfProducts(wide: Factor, narrow: number, visitRow: MixedEquations['visitRow']) {
  const wideCounts = new Float64Array(wide.count);
  const narrowProducts = Matrix.zeros(narrow, narrow);
  const crossProducts = Matrix.zeros(wide.count, narrow);
  for (const [row, level] of wide.levels.entries()) {
    wideCounts[level] = (wideCounts[level] ?? 0) + 1;
    visitRow(row, (left, weight) => {
      crossProducts.set(level, left, crossProducts.get(level, left) + weight);
      visitRow(row, (right, other) => {
        narrowProducts.set(left, right, narrowProducts.get(left, right) + weight * other);
      });
    });
  }
  return { wideCounts, narrowProducts, crossProducts };
}

/** Visits the columns of a row that are not 0, found once for all visits. */
function rowVisitor(
  { fixed, random }: MixedModelInput,
  wide: number,
  offsets: readonly number[],
): MixedEquations['visitRow'] {
  const entries = fixed.map((weights, row) => {
    const own = weights
      .map((weight, column) => ({ column, weight }))
      .filter(({ weight }) => weight !== 0);
    for (const [at, { levels }] of random.entries()) {
      if (at !== wide) own.push({ column: (offsets[at] ?? 0) + (levels[row] ?? 0), weight: 1 });
    }
    return own;
  });
  return (row, visit) => {
    for (const { column, weight } of entries[row] ?? []) visit(column, weight);
  };
}

/** Good enough a start to work with small numbers: the mixed model equations correct it. */
function leastSquares(
  y: readonly number[],
  fixed: readonly (readonly number[])[],
  size: number,
): number[] {
  const products = new Float64Array(size * size);
  const right = new Float64Array(size);
  for (const [row, weights] of fixed.entries()) {
    for (const [i, weight] of weights.entries()) {
      if (weight === 0) continue;
      right[i] = (right[i] ?? 0) + weight * (y[row] ?? 0);
      for (const [j, other] of weights.entries()) {
        products[i * size + j] = (products[i * size + j] ?? 0) + weight * other;
      }
    }
  }
  const scale = Float64Array.from(right, (_, i) => products[i * size + i] ?? 0);
  const independent = scale.every((entry) => entry > 0);
  const { inverse, rank } = symmetricPseudoInverse(products, independent ? scale : scale.fill(1));
  if (rank < size) throw new RangeError('the fixed columns are linearly dependent');
  return inverse.mmul(Matrix.columnVector(right)).to1DArray();
}

function requireMixedModel({ y, fixed, random }: MixedModelInput, fixedColumns: number): void {
  requireFinite('y', y);
  if (fixed.length !== y.length || fixedColumns === 0 || fixedColumns > y.length) {
    throw new RangeError(`${fixed.length} rows of ${fixedColumns} fixed columns for ${y.length}`);
  }
  if (random.length === 0) throw new RangeError('no random factor');
  for (const row of fixed) {
    requireFinite('fixed', row);
    if (row.length !== fixedColumns) throw new RangeError('rows of unequal length');
  }
  for (const factor of random) requireLevels(y.length, factor);
}
