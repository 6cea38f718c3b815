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

/**
 * Sum of numbers that people typed, as they would add them up on paper: 65.9 + 58.1 + 55.6 is 179.6,
 * where the doubles nearest to these have a sum nearest to 179.60000000000002.
 *
 * Where every value is the double of a decimal of at most six places, whole millionths are added,
 * which is exact, and the sum is rounded once; other values are added by `sum`.
 *
 * Units: those of `values`. No values sum to 0.
 *
 * @throws RangeError as `sum` does
 */
export function decimalSum(values: readonly number[]): number {
  let millionths = 0;
  for (const value of values) {
    const whole = Math.round(value * PARTS);
    millionths += whole;
    if (whole / PARTS !== value || !Number.isSafeInteger(millionths)) return sum(values);
  }
  return millionths / PARTS;
}

const PARTS = 1e6;
