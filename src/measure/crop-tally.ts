import type { Crop } from '../model/ledger.ts';
import { decimalSum } from '../stats/numbers/sum.ts';
import type { CropRecord } from './crop-record.ts';
import { total } from './total.ts';
import { pickedWeight } from './yield-figures.ts';

/** What one of the two crops brought. */
export interface CropTally {
  /** Trees with anything written down for this crop. */
  readonly trees: number;
  /** Fruit set; undefined where nothing was written down for this crop. */
  readonly load: number | undefined;
  readonly picked: number;
  /** g; undefined where some picked fruit's weight is not known. */
  readonly weight: number | undefined;
  /** g; what stood on the scales, nothing stretched, where `weight` is not known. */
  readonly weightAtLeast: number | undefined;
  /** Share of the weight of both crops. */
  readonly shareOfWeight: number | undefined;
}

/** Early and main crop of some records side by side. */
export function cropTally(records: readonly CropRecord[]): Readonly<Record<Crop, CropTally>> {
  const both = pickedWeight(records);
  const of = (crop: Crop) =>
    tally(
      records.filter((record) => record.crop === crop),
      both,
    );
  return { early: of('early'), main: of('main') };
}

function tally(records: readonly CropRecord[], both: number | undefined): CropTally {
  const weight = pickedWeight(records);
  return {
    trees: new Set(records.map((record) => record.tree)).size,
    load: records.length === 0 ? undefined : total(records, (record) => record.load.fruit),
    picked: total(records, (record) => record.picked),
    weight,
    weightAtLeast: weight === undefined ? weighedAtLeast(records) : undefined,
    shareOfWeight:
      both === undefined || weight === undefined || both === 0 ? undefined : weight / both,
  };
}

/** g; undefined where nothing was weighed. */
function weighedAtLeast(records: readonly CropRecord[]): number | undefined {
  const least = decimalSum(records.map(({ weights }) => weights.onScales));
  return least === 0 ? undefined : least;
}
