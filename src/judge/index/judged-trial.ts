import type { Part } from '../../measure/measured-parts.ts';
import type { Band, MeasuredPart } from '../../model/ledger.ts';

/**
 * A crop's trial as the index model needs it: numbers and places in lists, no names. Items are what
 * is compared, 0 to `items - 1`; trees, seasons, sites, tasters, sittings and plates are numbered
 * likewise, trees over all items.
 */
export interface JudgedTrial {
  readonly items: number;
  readonly sites: number;
  readonly scale: { readonly low: number; readonly high: number };
  readonly traits: readonly { readonly key: string; readonly weight: number }[];
  readonly measured: readonly {
    readonly part: MeasuredPart;
    readonly weight: number;
    /** Absent where only figures in the part's own unit are asked for. */
    readonly band: Band | undefined;
  }[];
  readonly tasted: readonly TastedRow[];
  /** Orders of plates that their taster gave no score, best first; plates of one rank are tied. */
  readonly ordered?: readonly (readonly (readonly OrderedRow[])[])[];
  readonly harvested: readonly HarvestRow[];
}

interface Grown {
  readonly item: number;
  readonly season: number;
  readonly tree: number;
  readonly site: number;
  /** Seasons since it was planted, at least 1; absent where nobody wrote that down. */
  readonly age: number | undefined;
}

/** A plate that someone put in its place among others. */
export interface OrderedRow extends Grown {
  readonly sitting: number;
  readonly plate: number;
}

/** What one taster gave one plate. */
export interface TastedRow extends OrderedRow {
  readonly taster: number;
  /** By trait, in the order of `traits`; absent where it was not scored. */
  readonly scores: readonly (number | undefined)[];
}

/** What one tree bore in one season. */
export interface HarvestRow extends Grown {
  /** Fruit set, and the branches it was set on; absent where branches were not counted. */
  readonly borne: Part | undefined;
  /** Weight of fruit (g), how many weighed that, and the weights of those weighed singly. */
  readonly weighed: (Part & { readonly singles: readonly number[] }) | undefined;
  /** Sound fruit of those picked. */
  readonly sound: Part | undefined;
  /** Fruit picked by the first frost, of the load. */
  readonly ripened: Part | undefined;
}
