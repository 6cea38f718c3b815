import type { Cultivar, Tree } from '../model/collection.ts';
import type { Crop, Ledger } from '../model/ledger.ts';
import { CROPS } from '../model/ledger.ts';
import type { CropRecord } from './crop-record.ts';
import { groupBy } from './group-by.ts';

/** What a row of figures stands for; several together make a row for each combination. */
export const BYS = ['tree', 'cultivar', 'site', 'season'] as const;
export type By = (typeof BYS)[number];

/** What a row of a judgement stands for. */
export type RowBy = By | 'cover';

/** Records that are told in one row. Every list is in the ledger's order. */
export interface RecordGroup {
  readonly records: readonly CropRecord[];
  readonly crops: readonly Crop[];
  readonly trees: readonly Tree[];
  readonly cultivars: readonly Cultivar[];
  /** Keys. */
  readonly sites: readonly string[];
  readonly seasons: readonly number[];
}

/**
 * Puts records that belong in one row together, rows in the ledger's order of what is named first
 * in `by`, then second, and so on, early before main.
 *
 * @param splitCrops whether early and main crop stand in rows of their own
 */
export function groupRecords(
  ledger: Ledger,
  records: readonly CropRecord[],
  by: readonly By[],
  splitCrops: boolean,
): RecordGroup[] {
  const order = ledgerOrder(ledger);
  const placed = records.map((record) => {
    const place = by.map((one) => order[one](record));
    return { record, place: splitCrops ? [...place, CROPS.indexOf(record.crop)] : place };
  });
  return [...groupBy(placed, ({ place }) => place.join(' ')).values()]
    .toSorted(([a], [b]) => comparePlaces(a?.place ?? [], b?.place ?? []))
    .map((group) =>
      toGroup(
        group.map(({ record }) => record),
        order,
      ),
    );
}

type Order = Readonly<Record<By, (record: CropRecord) => number>>;

function ledgerOrder(ledger: Ledger): Order {
  const trees = places(ledger.trees.keys());
  const cultivars = places(ledger.cultivars.keys());
  const sites = places(ledger.trial.sites.keys());
  return {
    tree: ({ tree }) => trees.get(tree.id) ?? trees.size,
    cultivar: ({ tree }) => cultivars.get(tree.cultivar.key) ?? cultivars.size,
    site: ({ site }) => sites.get(site) ?? sites.size,
    season: ({ season }) => season,
  };
}

function places(keys: Iterable<string>): ReadonlyMap<string, number> {
  return new Map([...keys].map((key, place) => [key, place]));
}

function comparePlaces(a: readonly number[], b: readonly number[]): number {
  for (const [at, place] of a.entries()) {
    const difference = place - (b[at] ?? 0);
    if (difference !== 0) return difference;
  }
  return 0;
}

function toGroup(records: readonly CropRecord[], order: Order): RecordGroup {
  const inOrderOf = (by: By) => records.toSorted((a, b) => order[by](a) - order[by](b));
  return {
    records,
    crops: CROPS.filter((crop) => records.some((record) => record.crop === crop)),
    trees: [...new Set(inOrderOf('tree').map(({ tree }) => tree))],
    cultivars: [...new Set(inOrderOf('cultivar').map(({ tree }) => tree.cultivar))],
    sites: [...new Set(inOrderOf('site').map(({ site }) => site))],
    seasons: [...new Set(inOrderOf('season').map(({ season }) => season))],
  };
}
