import { sum } from '../numbers/sum.ts';

/**
 * Arithmetic mean, from a compensated sum; `undefined` if there are no values.
 *
 * Units: those of `values`. Holds NIST StRD's certified means to 15 digits.
 *
 * @throws RangeError on a value that is not finite
 * @example mean([2, 4, 9]) // => 5
 */
export function mean(values: readonly number[] | Float64Array): number | undefined {
  return values.length === 0 ? undefined : sum(values) / values.length;
}
