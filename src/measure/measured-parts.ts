import type { IsoDate } from '../model/dates.ts';
import { DEFECTS } from '../model/entries.ts';
import type { MeasuredPart } from '../model/ledger.ts';
import type { CropRecord } from './crop-record.ts';
import { total } from './total.ts';

/** A total over what it was had from. */
export interface Part {
  readonly sum: number;
  readonly of: number;
}

type PartOf = (record: CropRecord, frost: IsoDate | undefined) => Part | undefined;

/**
 * What a record tells of each measured part of the rank: fruit over branches, g over fruit weighed,
 * sound fruit over fruit picked, fruit picked by the first frost over the load. Undefined where it
 * was not seen.
 */
export const PART_OF_RECORD: Readonly<Record<MeasuredPart, PartOf>> = {
  productivity: ({ load, branches }) =>
    branches === undefined ? undefined : { sum: load.fruit, of: branches },
  size: ({ weights: { counted } }) =>
    counted.fruit > 0 && counted.weight > 0
      ? { sum: counted.weight, of: counted.fruit }
      : undefined,
  soundness: ({ picked, defects }) =>
    picked > 0
      ? { sum: picked - total(DEFECTS, (defect) => defects[defect]), of: picked }
      : undefined,
  ripened: ({ load, picks }, frost) =>
    frost === undefined || load.fruit === 0
      ? undefined
      : { sum: total(picks, ({ on, fruit }) => (on <= frost ? fruit : 0)), of: load.fruit },
};
