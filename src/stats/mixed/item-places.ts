import type { MixedLayout } from './mixed-layout.ts';

/** Where what belongs to an item begins in lists that hold it for all items one after another; last their length. */
export type ItemPlaces = {
  /** Unknowns of an item: its trees and, last, the item. */
  readonly unknown: Int32Array;
  /** Its square system of the unknowns. */
  readonly system: Int32Array;
  readonly season: Int32Array;
  /** Its rows of the unknowns, one a season. */
  readonly row: Int32Array;
  /** The most unknowns and seasons of one item. */
  readonly most: number;
  readonly mostSeasons: number;
};

export function itemPlaces({ items, treesOf, seasonsOf }: MixedLayout): ItemPlaces {
  const size = (item: number) => 1 + (treesOf[item] as number);
  return {
    unknown: starts(items, size),
    system: starts(items, (item) => size(item) ** 2),
    season: starts(items, (item) => seasonsOf[item] as number),
    row: starts(items, (item) => size(item) * (seasonsOf[item] as number)),
    most: 1 + treesOf.reduce((most, count) => Math.max(most, count), 0),
    mostSeasons: seasonsOf.reduce((most, count) => Math.max(most, count), 0),
  };
}

/** Running totals: where each begins, and last the whole length. */
function starts(items: number, lengthOf: (item: number) => number): Int32Array {
  const from = new Int32Array(items + 1);
  for (let item = 0; item < items; item++) {
    from[item + 1] = (from[item] as number) + lengthOf(item);
  }
  return from;
}
