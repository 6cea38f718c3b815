import { midranks } from './midranks.ts';
import { numberAt } from './number-at.ts';

/** A treatment's rank in a block that had it. */
export type PlacedRank = { readonly treatment: number; readonly rank: number };

/**
 * Ranks the treatments that each block has; a missing value takes part in nothing.
 *
 * @param values by block and treatment; undefined where a block did not have a treatment
 * @returns by block, ranks from 1 for the smallest, midranks for ties
 * @throws RangeError if blocks differ in length or a value is not finite
 */
export function incompleteRanks(
  values: readonly (readonly (number | undefined)[])[],
): PlacedRank[][] {
  const treatments = values[0]?.length ?? 0;
  return values.map((block) => {
    if (block.length !== treatments)
      throw new RangeError('blocks differ in how many treatments they have');
    const present = block.flatMap((value, treatment) =>
      value === undefined ? [] : [{ value, treatment }],
    );
    const ranks = midranks(present.map(({ value }) => value));
    return present.map(({ treatment }, i) => ({ treatment, rank: numberAt(ranks, i) }));
  });
}
