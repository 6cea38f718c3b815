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
