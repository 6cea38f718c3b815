import { fUpper } from './f-cdf.ts';
import { requireFinite } from './require-finite.ts';
import { sum } from './sum.ts';

/** One line of an analysis of variance: sum of squares, degrees of freedom, mean square. */
export interface VarianceLine {
  readonly ss: number;
  readonly df: number;
  readonly ms: number;
}

/** A one-way analysis of variance. */
export interface OneWayAnova {
  readonly between: VarianceLine;
  readonly within: VarianceLine;
  /** between.ms / within.ms; absent if nothing varies within any group */
  readonly f: number | undefined;
  /** upper tail of F at `f` */
  readonly p: number | undefined;
}

const line = (ss: number, df: number): VarianceLine => ({ ss, df, ms: ss / df });

/**
 * One-way analysis of variance of two or more groups; empty groups are passed over.
 *
 * Formula: between = sum n_i (mean_i - mean)^2 on k - 1, within = sum (y - mean_i)^2 on n - k degrees
 * of freedom (Fisher 1925, Statistical Methods for Research Workers).
 * Method: the first value is taken off every value, which is exact for values close together, then
 * two passes with compensated sums and the correction of Chan, Golub & LeVeque 1983, The American
 * Statistician 37:242-247. Holds NIST StRD's certified values within what doubles can carry.
 *
 * Units: sums of squares and mean squares in squared units of the values; f and p have none.
 *
 * @returns `undefined` with fewer than two groups, or one value in every group
 * @throws RangeError on a value that is not finite
 * @example oneWayAnova([[1, 3], [4, 6]])?.f // => 4.5
 */
export function oneWayAnova(groups: readonly (readonly number[])[]): OneWayAnova | undefined {
  const filled = groups.filter((group) => group.length > 0);
  for (const group of filled) requireFinite('values', group);
  const origin = filled[0]?.[0] ?? 0;
  const shifted = filled.map((group) => group.map((value) => value - origin));
  const n = sum(shifted.map((group) => group.length));
  const dfBetween = shifted.length - 1;
  const dfWithin = n - shifted.length;
  if (dfBetween < 1 || dfWithin < 1) return undefined;

  const grandMean = sum(shifted.flat()) / n;
  const means = shifted.map((group) => sum(group) / group.length);
  const within = line(sum(shifted.map((group, i) => squaresAbout(group, means[i] ?? 0))), dfWithin);
  const between = line(
    sum(shifted.map((group, i) => group.length * ((means[i] ?? 0) - grandMean) ** 2)),
    dfBetween,
  );
  if (within.ms === 0) return { between, within, f: undefined, p: undefined };
  const f = between.ms / within.ms;
  return { between, within, f, p: fUpper(f, dfBetween, dfWithin) };
}

function squaresAbout(values: readonly number[], centre: number): number {
  const deviations = values.map((value) => value - centre);
  const drift = sum(deviations);
  return sum(deviations.map((d) => d * d)) - (drift * drift) / values.length;
}
