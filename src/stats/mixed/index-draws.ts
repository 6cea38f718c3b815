/** A weighted part of the index: draws on the common scale, by item. */
export type IndexPart = {
  readonly weight: number;
  readonly items: readonly (Float64Array | undefined)[];
};

/**
 * Draws of each item's index: the weighted mean of its parts, draw by draw.
 *
 * Parts are put together draw d with draw d; they must hold equally many draws. An item that lacks a part has no
 * index (`undefined`): nothing is imputed.
 *
 * @throws RangeError if parts differ in their number of items or draws, or no weight is positive
 */
export function indexDraws(parts: readonly IndexPart[]): (Float64Array | undefined)[] {
  const total = parts.reduce((sum, part) => sum + part.weight, 0);
  if (!(total > 0)) throw new RangeError('an index needs a part of positive weight');
  const items = parts.reduce((most, part) => Math.max(most, part.items.length), 0);
  return Array.from({ length: items }, (_, item) => {
    const own = parts.map((part) => part.items[item]);
    if (own.some((draws) => draws === undefined)) return undefined;
    const count = own[0]?.length ?? 0;
    if (own.some((draws) => draws?.length !== count)) {
      throw new RangeError('all parts of an index need equally many draws');
    }
    const index = new Float64Array(count);
    for (const { weight, items: drawn } of parts) {
      const share = weight / total;
      const draws = drawn[item] as Float64Array;
      for (let d = 0; d < count; d++)
        index[d] = (index[d] as number) + share * (draws[d] as number);
    }
    return index;
  });
}
