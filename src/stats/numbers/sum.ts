import { sum as compensatedSum } from 'simple-statistics';
import { requireFinite } from './require-finite.ts';

/**
 * Sum with Neumaier's compensation: the rounding error of each addition is carried along.
 *
 * Units: those of `values`. No values sum to 0.
 * Method: Neumaier 1974, Zeitschrift für Angewandte Mathematik und Mechanik 54:39-51.
 *
 * @throws RangeError on a value that is not finite, or a sum too great for a double
 * @example sum([1, 1e100, 1, -1e100]) // => 2
 */
export function sum(values: readonly number[] | Float64Array): number {
  // The library only reads by index, which its type does not say.
  const total = compensatedSum(values as number[]);
  if (Number.isFinite(total)) return total;
  // A value that is not finite leaves a sum that is not either: looked for only then.
  requireFinite('values', values);
  requireFinite('sum', [total]);
  return total;
}
