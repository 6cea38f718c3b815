import { requireFinite } from './require-finite.ts';

/**
 * Refuses weights that do not fit their values: one weight a value, all finite, none negative.
 *
 * @throws RangeError if they do not
 */
export function requireWeights(values: readonly number[], weights: readonly number[]): void {
  requireFinite('values', values);
  requireFinite('weights', weights);
  if (values.length !== weights.length) {
    throw new RangeError(`${weights.length} weights for ${values.length} values`);
  }
  if (weights.some((weight) => weight < 0)) throw new RangeError('a weight is negative');
}
