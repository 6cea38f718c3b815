import type { MixedLayout } from './mixed-layout.ts';

/** Where what belongs to an item begins in lists that hold it for all items one after another. */
export type ItemPlaces = {
  /** Unknowns of an item: its trees and, last, the item. */
  unknown(item: number): number;
  /** Its square system of the unknowns. */
  system(item: number): number;
  season(item: number): number;
  /** Its rows of the unknowns, one a season. */
  row(item: number): number;
  /** Lengths of those lists. */
  readonly unknowns: number;
  readonly systems: number;
  readonly seasons: number;
  readonly rows: number;
  /** The most unknowns and seasons of one item. */
  readonly most: number;
  readonly mostSeasons: number;
};

export function itemPlaces({ items, treesOf, seasonsOf }: MixedLayout): ItemPlaces {
  const size = (item: number) => 1 + (treesOf[item] as number);
  const unknown = starts(items, size);
  const system = starts(items, (item) => size(item) ** 2);
  const season = starts(items, (item) => seasonsOf[item] as number);
  const row = starts(items, (item) => size(item) * (seasonsOf[item] as number));
  return {
    unknown: (item) => unknown[item] as number,
    system: (item) => system[item] as number,
    season: (item) => season[item] as number,
    row: (item) => row[item] as number,
    unknowns: unknown[items] as number,
    systems: system[items] as number,
    seasons: season[items] as number,
    rows: row[items] as number,
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
