/**
 * The probability that a two-sided interval leaves out on each side: (1 - confidence) / 2.
 *
 * @param confidence a fraction between 0 and 1, both excluded
 * @throws RangeError if it is not
 * @example twoSidedTail(0.5) // => 0.25
 */
export function twoSidedTail(confidence: number): number {
  if (!(confidence > 0 && confidence < 1)) {
    throw new RangeError(`confidence ${confidence} is not a fraction between 0 and 1`);
  }
  return (1 - confidence) / 2;
}
