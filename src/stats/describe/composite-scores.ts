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
    let moved = 0;
    let seen = 0;
    for (let k = 0; k < traits.length; k++) {
      const average = (averages[k] as Float64Array)[of] as number;
      if (Number.isNaN(average)) return undefined;
      const score = traits[k]?.[row];
      if (score === undefined) continue;
      moved += (weights[k] as number) * (score - average);
      seen += weights[k] as number;
    }
    if (seen === 0) return undefined;
    let sum = 0;
    for (let k = 0; k < traits.length; k++) {
      const average = (averages[k] as Float64Array)[of] as number;
      const filled = traits[k]?.[row] ?? average + moved / seen;
      sum += ((weights[k] as number) * filled) / total;
    }
    return sum;
  });
}

/** By item the mean of its scores; NaN for one without. */
function itemAverages(
  scores: readonly (number | undefined)[],
  item: readonly number[],
): Float64Array {
  let items = 0;
  for (let row = 0; row < item.length; row++) items = Math.max(items, (item[row] as number) + 1);
  const sums = new Float64Array(items);
  const counts = new Float64Array(items);
  for (let row = 0; row < scores.length; row++) {
    const score = scores[row];
    if (score === undefined) continue;
    const of = item[row] as number;
    sums[of] = (sums[of] as number) + score;
    counts[of] = (counts[of] as number) + 1;
  }
  // Nothing by nothing is NaN.
  return sums.map((sum, of) => sum / (counts[of] as number));
}
