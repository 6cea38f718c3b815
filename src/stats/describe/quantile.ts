import { quantileSorted } from 'simple-statistics';
import { requireFinite } from '../numbers/require-finite.ts';

/**
 * Quantile by linear interpolation between order statistics, type 7; `undefined` without values.
 *
 * Units: those of `values`.
 * Formula: h = (n - 1) p + 1, then x[h] interpolated between the neighbours of h.
 * Hyndman & Fan 1996, The American Statistician 50(4):361-365, definition 7.
 *
 * @param values in any order; not modified
 * @param p share from 0 to 1
 * @throws RangeError on a value that is not finite, or a share outside 0 to 1
 * @example quantile([1, 2, 3, 4], 0.25) // => 1.75
 */
export function quantile(values: readonly number[], p: number): number | undefined {
  requireFinite('values', values);
  if (!(p >= 0 && p <= 1)) throw new RangeError(`share ${p} is outside 0 to 1`);
  if (values.length === 0) return undefined;
  // Plain numbers sort several times faster than a list of anything.
  return quantileSorted(Array.from(Float64Array.from(values).sort()), p);
}
