import { numberAt } from '../numbers/number-at.ts';
import { requireFinite } from '../numbers/require-finite.ts';

export type ShuklaVariance = {
  /**
   * By treatment: variance of its interaction with environments. An estimate may be negative: read
   * it as 0.
   */
  readonly variances: readonly number[];
  /** Mean square of treatment by environment interaction, which is the mean of the variances. */
  readonly interactionMs: number;
  /** Of the mean square. */
  readonly df: number;
};

/**
 * Shukla's stability variance: [g (g - 1) W_i - sum W] / [(e - 1)(g - 1)(g - 2)] for g treatments
 * in e environments with Wricke's ecovalences W. Variation between and within trees of a cell is
 * still in it.
 *
 * Source: Shukla 1972, Heredity 29:237-245.
 *
 * @param values by treatment and environment, complete
 * @returns undefined for fewer than three treatments or two environments
 * @throws RangeError if treatments differ in how many environments they have or a value is not
 *   finite
 */
export function shuklaVariance(values: readonly (readonly number[])[]): ShuklaVariance | undefined {
  const { ecovalences, interactionSs } = wrickeEcovalence(values);
  const g = values.length;
  const e = values[0]?.length ?? 0;
  if (g < 3 || e < 2) return undefined;
  const df = (e - 1) * (g - 1);
  return {
    variances: ecovalences.map((w) => (g * (g - 1) * w - interactionSs) / (df * (g - 2))),
    interactionMs: interactionSs / df,
    df,
  };
}

/**
 * What is left of a complete two-way table after row and column means: y_ij - row mean - column
 * mean + mean of all.
 *
 * @param values by row and column
 * @throws RangeError if rows differ in length or a value is not finite
 */
function interactionResiduals(values: readonly (readonly number[])[]): number[][] {
  const columns = values[0]?.length ?? 0;
  for (const row of values) {
    if (row.length !== columns) throw new RangeError('rows differ in length');
    requireFinite('values', row);
  }
  const mean = (list: readonly number[]) =>
    list.reduce((sum, value) => sum + value, 0) / list.length;
  const rowMeans = values.map(mean);
  const all = mean(rowMeans);
  const columnMeans = Array.from({ length: columns }, (_, j) =>
    mean(values.map((row) => numberAt(row, j))),
  );
  return values.map((row, i) =>
    row.map((value, j) => value - numberAt(rowMeans, i) - numberAt(columnMeans, j) + all),
  );
}

type WrickeEcovalence = {
  /**
   * By treatment: its part of the interaction sum of squares; 0 moves with the environment means
   * exactly.
   */
  readonly ecovalences: readonly number[];
  /** By treatment, as shares that sum to 1; absent if there is no interaction at all. */
  readonly shares: readonly number[] | undefined;
  /** Sum of squares of treatment by environment interaction. */
  readonly interactionSs: number;
};

/**
 * Wricke's ecovalence: W_i = sum over environments of (y_ij - mean_i - mean_j + mean)^2.
 *
 * Source: Wricke 1962, Zeitschrift fuer Pflanzenzuechtung 47:92-96.
 *
 * @param values by treatment and environment, complete
 * @throws RangeError if treatments differ in how many environments they have or a value is not
 *   finite
 */
export function wrickeEcovalence(values: readonly (readonly number[])[]): WrickeEcovalence {
  const ecovalences = interactionResiduals(values).map((row) =>
    row.reduce((sum, residual) => sum + residual ** 2, 0),
  );
  const interactionSs = ecovalences.reduce((sum, part) => sum + part, 0);
  return {
    ecovalences,
    shares: interactionSs > 0 ? ecovalences.map((part) => part / interactionSs) : undefined,
    interactionSs,
  };
}
