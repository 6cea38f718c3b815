import { requireFinite } from '../numbers/require-finite.ts';

/**
 * Ranks with the greatest value first; equal values share the lower rank and the next rank is left
 * out (1, 2, 2, 4): "standard competition ranking".
 *
 * Formula: rank = 1 + the count of greater values. Equal means equal to the last digit.
 *
 * @returns one rank a value, in the order of `values`
 * @throws RangeError on a value that is not finite
 * @example competitionRanks([7, 9, 7, 3]) // => [2, 1, 2, 4]
 */
export function competitionRanks(values: readonly number[]): number[] {
  requireFinite('values', values);
  const rankOf = new Map<number, number>();
  values
    .toSorted((a, b) => b - a)
    .forEach((value, place) => {
      if (!rankOf.has(value)) rankOf.set(value, place + 1);
    });
  return values.map((value) => rankOf.get(value) ?? values.length);
}
