import { sum } from './sum.ts';

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
