import type { PartialTable } from './environment-effects.ts';
import { finlayWilkinson } from './finlay-wilkinson.ts';
import { requireFinite } from './require-finite.ts';

export type EberhartRussell = {
  /** 1 follows the mean of all treatments. */
  readonly slope: number;
  /** Mean value over the environments that the treatment was seen in. */
  readonly mean: number;
  /**
   * Mean square about the line less the error variance of a cell's mean; may be negative: read it
   * as 0.
   */
  readonly deviation: number;
};

/**
 * Eberhart and Russell's stability parameters: slope on the environment index and deviation from
 * the line, s2_d = deviation mean square - error.
 *
 * Source: Eberhart and Russell 1966, Crop Science 6:36-40; index and missing cells as in
 * `finlayWilkinson`.
 *
 * @param values by treatment and environment
 * @param error variance of a cell's mean, such as the pooled mean square within cells over trees a
 *   cell
 * @returns by treatment; undefined for fewer than three environments or none that differ
 * @throws RangeError if treatments differ in how many environments they have, a value is not
 *   finite, or error is negative
 */
export function eberhartRussell(
  values: PartialTable,
  error: number,
): (EberhartRussell | undefined)[] {
  requireFinite('error', [error]);
  if (error < 0) throw new RangeError(`an error variance of ${error} is below 0`);
  const { lines } = finlayWilkinson(values);
  return values.map((row, i) => {
    const line = lines[i];
    if (line?.deviationMs === undefined) return undefined;
    const seen = row.filter((value) => value !== undefined);
    const mean = seen.reduce((sum, value) => sum + value, 0) / seen.length;
    return { slope: line.slope, mean, deviation: line.deviationMs - error };
  });
}
