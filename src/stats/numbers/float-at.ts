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
