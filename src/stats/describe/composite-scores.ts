/**
 * One weighted mean a row from scores of several traits.
 *
 * A score that a taster left out is filled with what the item has for that trait on average, moved by as much as
 * the rest of the row lies from the item's averages; so a row is neither lost nor dragged towards the traits that
 * happen to score high. A row of an item that no one ever scored for some trait has no composite.
 *
 * @param traits one array a trait, one entry a row; absent = not scored
 * @param weights of the traits, positive
 * @param item of each row
 * @returns by row the composite, or `undefined`
 */
export function compositeScores(
  traits: readonly (readonly (number | undefined)[])[],
  weights: readonly number[],
  item: readonly number[],
): (number | undefined)[] {
  const averages = traits.map((scores) => itemAverages(scores, item));
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  return item.map((of, row) => {
    const expected = averages.map((byItem) => byItem.get(of));
    if (expected.some((average) => average === undefined)) return undefined;
    let [moved, seen] = [0, 0];
    traits.forEach((scores, k) => {
      const score = scores[row];
      if (score === undefined) return;
      moved += (weights[k] ?? 0) * (score - (expected[k] ?? 0));
      seen += weights[k] ?? 0;
    });
    if (seen === 0) return undefined;
    return traits.reduce((sum, scores, k) => {
      const filled = scores[row] ?? (expected[k] ?? 0) + moved / seen;
      return sum + ((weights[k] ?? 0) * filled) / total;
    }, 0);
  });
}

function itemAverages(
  scores: readonly (number | undefined)[],
  item: readonly number[],
): Map<number, number> {
  const sums = new Map<number, { sum: number; count: number }>();
  scores.forEach((score, row) => {
    const of = item[row];
    if (score === undefined || of === undefined) return;
    const { sum, count } = sums.get(of) ?? { sum: 0, count: 0 };
    sums.set(of, { sum: sum + score, count: count + 1 });
  });
  return new Map([...sums].map(([of, { sum, count }]) => [of, sum / count]));
}
