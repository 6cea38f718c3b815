/**
 * How many slips turn one word into another: letters too many, missing or wrong, and swaps of neighbours.
 *
 * The optimal string alignment form of Damerau (1964, Commun. ACM 7:171). Case counts.
 *
 * @example alignmentDistance('quay', 'qauy') // => 1
 */
export function alignmentDistance(a: string, b: string): number {
  let beforeLast: number[] = [];
  let last = Array.from({ length: b.length + 1 }, (_, column) => column);
  for (let row = 1; row <= a.length; row++) {
    const current = [row];
    for (let column = 1; column <= b.length; column++) {
      const same = a[row - 1] === b[column - 1];
      let cost = Math.min(
        (last[column] ?? 0) + 1,
        (current[column - 1] ?? 0) + 1,
        (last[column - 1] ?? 0) + (same ? 0 : 1),
      );
      if (a[row - 1] === b[column - 2] && a[row - 2] === b[column - 1]) {
        cost = Math.min(cost, (beforeLast[column - 2] ?? 0) + 1);
      }
      current.push(cost);
    }
    beforeLast = last;
    last = current;
  }
  return last[b.length] ?? 0;
}
