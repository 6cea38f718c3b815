import { CholeskyDecomposition, Matrix } from 'ml-matrix';
import { connectedGroups } from '../numbers/connected-groups.ts';
import { requireFinite } from '../numbers/require-finite.ts';

/**
 * Values by treatment and environment; undefined where a treatment was not seen in an environment.
 */
export type PartialTable = readonly (readonly (number | undefined)[])[];

export type EnvironmentEffects = {
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
