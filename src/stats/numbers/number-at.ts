/**
 * The number at an index, so that reading an array never yields a silent `undefined`.
 *
 * @throws RangeError if the array has no number there
 */
export function numberAt(values: ArrayLike<number>, index: number): number {
  const value = values[index];
  if (value === undefined) throw new RangeError(`no number at ${index} of ${values.length}`);
  return value;
}

/**
 * The number at an index of a Float64Array, for inner loops: unlike `numberAt` it only ever sees
 * one kind of array, which lets the engine compile it to a plain load.
 *
 * @throws RangeError if the index is outside
 */
export function floatAt(values: Float64Array, index: number): number {
  const value = values[index];
  if (value === undefined) throw new RangeError(`no number at ${index} of ${values.length}`);
  return value;
}
