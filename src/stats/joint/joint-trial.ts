/** Values of one part with the groups they belong to; every array has one entry an observation. */
export interface JointPart {
  /** The values, on a scale where effects add up. */
  readonly y: readonly number[];
  /** What is compared, 0 to items - 1. */
  readonly item: readonly number[];
  /** Any numbering, such as years. */
  readonly season: readonly number[];
  /** The single plant (or other repeat of the item), numbered over all items. */
  readonly tree: readonly number[];
  /** 0 to sites - 1. */
  readonly site: readonly number[];
  /** What was judged or measured once, shared by its observations (a plate before several judges). */
  readonly plate: readonly number[];
  /** The sitting or season that all observations in it have in common, 0 to blocks - 1. */
  readonly block: readonly number[];
  /** Who judged, 0 to judges - 1; absent where nobody did, -1 for someone who stands for the average judge. */
  readonly judge?: readonly number[] | undefined;
  /**
   * Orders, best first, of observations whose values are not known beyond that: each rank has the places of one or,
   * tied, several. Their values in `y` are where a chain begins.
   */
  readonly orders?: readonly (readonly (readonly number[])[])[] | undefined;
  /** Known sampling variance of each value, where it has one; then a plate has one observation. */
  readonly variance?: readonly number[] | undefined;
  /** Years since the tree was planted, infinite for one that is grown; absent where age does not matter. */
  readonly age?: readonly number[] | undefined;
  /**
   * What age does: `divides` a value and its root variance by the root of 1 - exp(-age / pace), as a count per unit
   * on the root scale is divided where the units of a young tree count in part; or takes `earned` exp(-age / pace)
   * away from the value.
   */
  readonly aging?: 'divides' | 'earns' | undefined;
  /** Size of spread to be reckoned with before anything was seen: scale of the weak priors, in the unit of the values. */
  readonly scale: number;
  /** Step to which the values were rounded; 0 or absent if they were not. */
  readonly resolution?: number | undefined;
}

/** Several parts of the same items, seen on the same trees in the same seasons. */
export interface JointTrial {
  readonly items: number;
  readonly sites: number;
  readonly parts: readonly JointPart[];
}

/** Where effects come from: the item, the item in a season, the item at a site, a tree of it. */
export const LEVELS = ['item', 'season', 'site', 'tree'] as const;
export type Level = (typeof LEVELS)[number];
/** Places of the levels in lists over them. */
export const ITEM = 0;
export const SEASON = 1;
export const SITE = 2;
export const TREE = 3;
