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
  return (figure) => {
    if (figure <= first[0]) return first[1];
    const k = points.findIndex(([to]) => figure < to);
    const [low, high] = [points[k - 1], points[k]];
    if (low === undefined || high === undefined) return last[1];
    return low[1] + ((figure - low[0]) / (high[0] - low[0])) * (high[1] - low[1]);
  };
}
