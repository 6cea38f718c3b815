import type { Factor } from '../numbers/factor.ts';
import { type AdditiveFit, additiveFit } from './additive-fit.ts';
import type { AdditiveLayout } from './additive-layout.ts';

/** Rows of a layout: a value, a treatment and a level of each other factor. */
export interface AdditiveModelInput {
  readonly y: readonly number[];
  /** treatment of each row, 0 to treatments - 1 */
  readonly treatment: readonly number[];
  readonly treatments: number;
  readonly factors: readonly Factor[];
}

/** Treatments whose differences can be estimated. */
export interface ConnectedGroup {
  /** in ascending order */
  readonly treatments: readonly number[];
  /** least-squares means, in the order of `treatments` */
  readonly means: readonly number[];
  /** their covariances; absent without residual degrees of freedom */
  readonly covariance: readonly (readonly number[])[] | undefined;
  /** how the levels of the other factors are weighted in the means; differences do not depend on it */
  readonly weights: 'equal' | 'observed';
}

/** Least-squares means and what they rest on. */
export interface AdditiveModel {
  /** by treatment; absent for one that no row has */
  readonly means: readonly (number | undefined)[];
  /** by treatment; absent also without residual degrees of freedom */
  readonly standardErrors: readonly (number | undefined)[];
  /** by treatment: plain means of the rows, and how many there are */
  readonly rawMeans: readonly (number | undefined)[];
  readonly counts: readonly number[];
  /** index in `groups` of each treatment */
  readonly groupOf: readonly (number | undefined)[];
  /** never compare treatments of different groups */
  readonly groups: readonly ConnectedGroup[];
  /** absent without residual degrees of freedom */
  readonly residualVariance: number | undefined;
  /** residual degrees of freedom */
  readonly df: number;
  readonly rank: number;
}

/**
 * Least-squares means of the treatments under y = treatment + factor + factor ..., for any layout:
 * unbalanced, with missing cells, or falling apart into pieces.
 *
 * Formula: the mean of a treatment is its effect plus the average effect of each other factor
 * (population marginal means, Searle, Speed & Milliken 1980, The American Statistician 34:216-221).
 * Groups: two treatments are in one group if and only if their difference is estimable, that is if
 * no direction that leaves all fitted values alone moves one against the other (Searle 1971, Linear
 * Models, section 5.4). A chain of shared levels is not enough for that with two or more factors.
 *
 * What the means of a group are relative to: the average runs with equal weights over the levels
 * that the group's own rows have. With a single group these are all levels in use. Several groups
 * stand on different levels, which is why their means must not be compared. Where equal weights
 * give no estimable mean (two other factors confounded with each other), the levels are weighted by
 * the group's rows instead, which is always estimable. Differences within a group are the same.
 *
 * Units: means and standard errors in those of y, variances and covariances in its square.
 *
 * @returns `undefined` without rows
 * @throws RangeError if sizes do not match, a level is out of bounds, or y is not finite
 */
export function additiveModel(input: AdditiveModelInput): AdditiveModel | undefined {
  const { y, treatment, treatments, factors } = input;
  if (y.length === 0) return undefined;
  const fit = additiveFit(y, [{ levels: treatment, count: treatments }, ...factors], 0);
  const residualVariance = fit.df < 1 ? undefined : fit.residualSumOfSquares / fit.df;
  const members = connectedTreatments(fit, treatments);
  const groups = members.map((group) => connectedGroup(input, fit, group, residualVariance));

  const means = new Array<number | undefined>(treatments).fill(undefined);
  const standardErrors = [...means];
  const groupOf = [...means];
  for (const [at, group] of groups.entries()) {
    for (const [place, each] of group.treatments.entries()) {
      means[each] = group.means[place];
      groupOf[each] = at;
      const variance = group.covariance?.[place]?.[place];
      if (variance !== undefined) standardErrors[each] = Math.sqrt(Math.max(0, variance));
    }
  }
  return {
    means,
    standardErrors,
    ...plainMeans(input),
    groupOf,
    groups,
    residualVariance,
    df: fit.df,
    rank: fit.rank,
  };
}

/** Directions have entries of at least about 1 / sqrt(rows); rounding leaves some 1e-12. */
const SAME = 1e-8;

/** Treatments in use, put together if no direction tells them apart. */
function connectedTreatments({ layout, nullSpace }: AdditiveFit, treatments: number): number[][] {
  const groups: number[][] = [];
  for (let each = 0; each < treatments; each++) {
    if (layout.counts[each] === 0) continue;
    const home = groups.find(([first = 0]) =>
      nullSpace.every((move) => Math.abs((move[each] ?? 0) - (move[first] ?? 0)) < SAME),
    );
    if (home === undefined) groups.push([each]);
    else home.push(each);
  }
  return groups;
}

function connectedGroup(
  input: AdditiveModelInput,
  fit: AdditiveFit,
  treatments: readonly number[],
  residualVariance: number | undefined,
): ConnectedGroup {
  const rows = groupRows(input.treatment, treatments);
  const equal = equalWeights(input.factors, fit.layout, rows);
  const first = treatments[0] ?? 0;
  const estimable = fit.nullSpace.every(
    (move) => Math.abs((move[first] ?? 0) + product(equal, move)) < SAME,
  );
  const shared = estimable ? equal : observedWeights(input.factors, fit.layout, rows);
  const average = product(shared, fit.effects);
  return {
    treatments,
    means: treatments.map((each) => (fit.effects[each] ?? 0) + average),
    covariance:
      residualVariance === undefined
        ? undefined
        : fit
            .covariances(shared, treatments)
            .map((row) => row.map((value) => value * residualVariance)),
    weights: estimable ? 'equal' : 'observed',
  };
}

function groupRows(treatment: readonly number[], group: readonly number[]): number[] {
  const members = new Set(group);
  return [...treatment.keys()].filter((row) => members.has(treatment[row] ?? -1));
}

function product(weights: Float64Array, values: Float64Array): number {
  return weights.reduce((total, weight, column) => total + weight * (values[column] ?? 0), 0);
}

/** One weight a column: the same for every level that a row has, summing to 1 a factor. */
function equalWeights(
  factors: readonly Factor[],
  layout: AdditiveLayout,
  rows: readonly number[],
): Float64Array {
  const weights = constantWeight(factors, layout);
  for (const [at, { levels }] of factors.entries()) {
    const reached = new Set(rows.map((row) => levels[row] ?? 0));
    for (const level of reached) weights[(layout.offsets[at + 1] ?? 0) + level] = 1 / reached.size;
  }
  return weights;
}

/** One weight a column: the share of the rows that have the level. */
function observedWeights(
  factors: readonly Factor[],
  layout: AdditiveLayout,
  rows: readonly number[],
): Float64Array {
  const weights = constantWeight(factors, layout);
  for (const [at, { levels }] of factors.entries()) {
    for (const row of rows) {
      const column = (layout.offsets[at + 1] ?? 0) + (levels[row] ?? 0);
      weights[column] = (weights[column] ?? 0) + 1 / rows.length;
    }
  }
  return weights;
}

/** Without other factors the layout holds a constant, which every mean contains. */
function constantWeight(factors: readonly Factor[], layout: AdditiveLayout): Float64Array {
  const weights = new Float64Array(layout.columns);
  if (factors.length === 0) weights[layout.offsets[1] ?? 0] = 1;
  return weights;
}

function plainMeans({ y, treatment, treatments }: AdditiveModelInput): {
  rawMeans: (number | undefined)[];
  counts: number[];
} {
  const counts = new Array<number>(treatments).fill(0);
  const totals = [...counts];
  for (const [row, each] of treatment.entries()) {
    counts[each] = (counts[each] ?? 0) + 1;
    totals[each] = (totals[each] ?? 0) + (y[row] ?? 0);
  }
  const rawMeans = totals.map((total, each) => {
    const count = counts[each] ?? 0;
    return count === 0 ? undefined : total / count;
  });
  return { rawMeans, counts };
}
