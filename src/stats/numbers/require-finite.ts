/**
 * Refuses numbers that are not finite, so that no statistic can hand out NaN or Infinity.
 *
 * @param what what the numbers are, for the message
 * @throws RangeError on NaN or an infinity: whoever called let it through
 */
export function requireFinite(what: string, values: Iterable<number>): void {
  for (const value of values) {
    if (!Number.isFinite(value)) throw new RangeError(`${what}: ${value} is not a finite number`);
  }
}

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
