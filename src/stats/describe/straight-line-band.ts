/**
 * Maps figures to the scale by straight lines between the given points, flat beyond the first and last.
 *
 * @param points [figure, scale value] pairs, figures ascending; at least one
 * @returns a function that makes a new array of scale values from one of figures
 * @throws RangeError without points or if the figures do not ascend
 */
export function straightLineBand(
  points: readonly (readonly [number, number])[],
): (figures: Float64Array) => Float64Array {
  if (points.length === 0) throw new RangeError('a band needs a point');
  const from = Float64Array.from(points, ([figure]) => figure);
  const to = Float64Array.from(points, ([, value]) => value);
  for (let k = 1; k < from.length; k++) {
    if (!((from[k] as number) > (from[k - 1] as number))) {
      throw new RangeError('the figures of a band must ascend');
    }
  }
  return (figures) => {
    const values = new Float64Array(figures.length);
    for (let at = 0; at < figures.length; at++) {
      values[at] = onLines(from, to, figures[at] as number);
    }
    return values;
  };
}

function onLines(from: Float64Array, to: Float64Array, figure: number): number {
  const last = from.length - 1;
  if (figure <= (from[0] as number)) return to[0] as number;
  if (figure >= (from[last] as number)) return to[last] as number;
  let k = 1;
  while (figure >= (from[k] as number)) k++;
  const lower = from[k - 1] as number;
  const higher = from[k] as number;
  const low = to[k - 1] as number;
  const high = to[k] as number;
  return low + ((figure - lower) / (higher - lower)) * (high - low);
}
