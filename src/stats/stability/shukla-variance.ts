import { wrickeEcovalence } from './wricke-ecovalence.ts';

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
