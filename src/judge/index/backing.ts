import type { JointPart } from '../../stats/joint/joint-trial.ts';

/** On how much the draws of an item rest. */
export interface Backing {
  readonly seasons: number;
  readonly trees: number;
  /** Plates tasted, or trees measured in a season. */
  readonly plates: number;
  readonly observations: number;
}

export function backingOf(part: JointPart, item: number): Backing {
  const rows = [...part.item.keys()].filter((at) => part.item[at] === item);
  const distinct = (of: readonly number[]) => new Set(rows.map((at) => of[at])).size;
  return {
    seasons: distinct(part.season),
    trees: distinct(part.tree),
    plates: distinct(part.plate),
    observations: rows.length,
  };
}
