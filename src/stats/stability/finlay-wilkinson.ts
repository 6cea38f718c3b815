import { CholeskyDecomposition, Matrix } from 'ml-matrix';
import { connectedGroups } from '../numbers/connected-groups.ts';
import { requireFinite } from '../numbers/require-finite.ts';

/** How one treatment follows the environments. */
export type StabilityLine = {
  /** Environments that the treatment was seen in. */
  readonly environments: number;
  /**
   * 1 follows the mean of all; above 1 gains more from good environments, below 1 loses less in bad
   * ones.
   */
  readonly slope: number;
  /** Absent for two environments, through which a line always goes. */
  readonly standardError: number | undefined;
  /** Value of the line in the mean environment of its group. */
  readonly atMean: number;
  /** Sum of squares about the line. */
  readonly deviationSs: number;
  /** The same over environments - 2; absent for two environments. */
  readonly deviationMs: number | undefined;
  /**
   * Share of the treatment's own sum of squares that the line takes up; absent if its values are
   * all equal.
   */
  readonly rSquared: number | undefined;
};

export type FinlayWilkinson = EnvironmentEffects & {
  /** By treatment; absent if it was not seen in two environments that differ. */
  readonly lines: readonly (StabilityLine | undefined)[];
};

/**
 * Finlay-Wilkinson regression: each treatment's values on how good the environments are.
 *
 * The environment index is the environment's effect in the additive model of treatment and
 * environment, so that a cell missing from a poor environment does not make the environment look
 * good. Without missing cells it is the environment mean less the mean of all, and slopes average
 * 1. The index is made of the same values, so with few treatments slopes are drawn towards 1 and
 * the standard errors are a guide only.
 *
 * Source: Finlay and Wilkinson 1963, Australian Journal of Agricultural Research 14:742-754 (who
 * took logarithms first; that is left to the caller).
 *
 * @param values by treatment and environment
 * @throws RangeError if treatments differ in how many environments they have or a value is not
 *   finite
 */
export function finlayWilkinson(values: PartialTable): FinlayWilkinson {
  const { effects, groups } = environmentEffects(values);
  return { effects, groups, lines: values.map((row) => stabilityLine(row, effects)) };
}

function stabilityLine(
  row: readonly (number | undefined)[],
  effects: readonly (number | undefined)[],
): StabilityLine | undefined {
  const points = row.flatMap((y, environment) => {
    const x = effects[environment];
    return y === undefined || x === undefined ? [] : [{ x, y }];
  });
  const n = points.length;
  const mean = (part: (point: { x: number; y: number }) => number) =>
    points.reduce((sum, point) => sum + part(point), 0) / n;
  const [meanX, meanY] = [mean(({ x }) => x), mean(({ y }) => y)];
  const sxx = n * mean(({ x }) => (x - meanX) ** 2);
  const syy = n * mean(({ y }) => (y - meanY) ** 2);
  const greatest = effects.reduce<number>(
    (most, effect) => Math.max(most, Math.abs(effect ?? 0)),
    0,
  );
  // Environments that differ by rounding alone do not differ.
  if (n < 2 || sxx <= n * (1e-12 * greatest) ** 2) return undefined;
  const slope = (n * mean(({ x, y }) => (x - meanX) * (y - meanY))) / sxx;
  const deviationSs = n * mean(({ x, y }) => (y - meanY - slope * (x - meanX)) ** 2);
  const deviationMs = n > 2 ? deviationSs / (n - 2) : undefined;
  return {
    environments: n,
    slope,
    standardError: deviationMs === undefined ? undefined : Math.sqrt(deviationMs / sxx),
    atMean: meanY - slope * meanX,
    deviationSs,
    deviationMs,
    rSquared: syy === 0 ? undefined : 1 - deviationSs / syy,
  };
}

/**
 * Values by treatment and environment; undefined where a treatment was not seen in an environment.
 */
type PartialTable = readonly (readonly (number | undefined)[])[];

type EnvironmentEffects = {
  /** By environment, from the mean of its group; absent for an environment without values. */
  readonly effects: readonly (number | undefined)[];
  /**
   * Environments that treatments seen in several of them join; effects of different groups do not
   * compare.
   */
  readonly groups: readonly (readonly number[])[];
};

/**
 * Effects of environments in the additive model value = treatment + environment, by least squares:
 * how good each environment is, whichever treatments happened to be there. Without missing values
 * they are the environment means less the mean of all.
 *
 * Method: treatments are eliminated from the normal equations (Searle 1987, Linear Models for
 * Unbalanced Data, chapter 4).
 *
 * @throws RangeError if treatments differ in how many environments they have or a value is not
 *   finite
 */
export function environmentEffects(values: PartialTable): EnvironmentEffects {
  const environments = values[0]?.length ?? 0;
  const normal = Matrix.zeros(environments, environments);
  const right = Matrix.zeros(environments, 1);
  const rows = values.map((row) => seenIn(row, environments));
  for (const row of rows) {
    const mean = row.reduce((sum, { value }) => sum + value, 0) / row.length;
    for (const { environment, value } of row) {
      right.set(environment, 0, right.get(environment, 0) + value - mean);
      for (const { environment: other } of row) {
        const own = environment === other ? 1 : 0;
        normal.set(environment, other, normal.get(environment, other) + own - 1 / row.length);
      }
    }
  }
  const members = rows.map((row) => row.map(({ environment }) => environment));
  const seen = new Set(members.flat());
  const groups = connectedGroups(environments, members);
  const effects = solve(normal, right, groups);
  return {
    effects: effects.map((effect, environment) => (seen.has(environment) ? effect : undefined)),
    groups: groups.filter(([first = -1]) => seen.has(first)),
  };
}

function seenIn(row: readonly (number | undefined)[], environments: number) {
  if (row.length !== environments) {
    throw new RangeError('treatments differ in how many environments they have');
  }
  const seen = row.flatMap((value, environment) =>
    value === undefined ? [] : [{ environment, value }],
  );
  requireFinite(
    'values',
    seen.map(({ value }) => value),
  );
  return seen;
}

/** The equations leave the mean of each group open; adding something there fixes it at 0. */
function solve(normal: Matrix, right: Matrix, groups: readonly (readonly number[])[]): number[] {
  if (normal.rows === 0) return [];
  for (const group of groups) {
    for (const row of group) {
      for (const column of group) normal.set(row, column, normal.get(row, column) + 1);
    }
  }
  return new CholeskyDecomposition(symmetric(normal)).solve(right).to1DArray();
}

/** The mean of a matrix and its transpose, to make it symmetric to the last bit. */
function symmetric(matrix: Matrix): Matrix {
  return Matrix.add(matrix, matrix.transpose()).div(2);
}
