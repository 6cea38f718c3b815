import { groupBy } from '../../measure/group-by.ts';
import type { JointPart } from '../../stats/joint/joint-trial.ts';
import type { ItemPlate } from '../../stats/mixed/item-doubt.ts';

/** What the draws of an item at some sites rest on: plates tasted, or trees measured in a season. */
export function platesOf(
  part: JointPart,
  item: number,
  sites: readonly number[],
): readonly ItemPlate[] {
  const rows = [...part.item.keys()].filter(
    (at) => part.item[at] === item && sites.includes(part.site[at] ?? -1),
  );
  return [...groupBy(rows, (at) => part.plate[at]).values()].map((own) => ({
    season: part.season[own[0] ?? 0] ?? 0,
    tree: part.tree[own[0] ?? 0] ?? 0,
    observations: own.length,
  }));
}
