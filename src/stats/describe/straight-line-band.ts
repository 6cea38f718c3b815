/**
 * Maps a figure to the scale by straight lines between the given points, flat beyond the first and last.
 *
 * @param points [figure, scale value] pairs, figures ascending; at least one
 * @throws RangeError without points or if the figures do not ascend
 */
export function straightLineBand(
  points: readonly (readonly [number, number])[],
): (figure: number) => number {
  const first = points[0];
  const last = points.at(-1);
  if (first === undefined || last === undefined) throw new RangeError('a band needs a point');
  points.forEach(([figure], k) => {
    const before = points[k - 1];
    if (before !== undefined && !(figure > before[0])) {
      throw new RangeError('the figures of a band must ascend');
    }
  });
  const from = Float64Array.from(points, ([figure]) => figure);
  const to = Float64Array.from(points, ([, value]) => value);
  const highest = points.length - 1;
  return (figure) => {
    if (figure <= first[0]) return first[1];
    if (figure >= last[0]) return last[1];
    let k = 1;
    while (k < highest && figure >= (from[k] as number)) k++;
    const [lower, higher] = [from[k - 1] as number, from[k] as number];
    const [low, high] = [to[k - 1] as number, to[k] as number];
    return low + ((figure - lower) / (higher - lower)) * (high - low);
  };
}
