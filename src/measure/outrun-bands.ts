import { CROPS, type Crop, type Ledger, type MeasuredPart } from '../model/ledger.ts';
import { selectRecords } from './crop-record.ts';
import { groupBy } from './group-by.ts';
import { PART_OF_RECORD } from './measured-parts.ts';
import type { Selection } from './selection.ts';
import { total } from './total.ts';

/** A band that nearly all cultivars of a crop lie beyond, so that it gives them one score. */
export interface OutrunBand {
  readonly part: MeasuredPart;
  readonly crop: Crop;
  /** At which end of the band: below its first point or above its last. */
  readonly side: 'below' | 'above';
  /** Cultivars beyond that end, of those measured. */
  readonly beyond: number;
  readonly of: number;
  /** The end of the band: a measure, and the score that it gives. */
  readonly end: readonly [measure: number, score: number];
}

/** With fewer cultivars a band is not blamed: the next one may lie inside. */
const LEAST = 3;
/** The share of cultivars beyond one end from which on the band parts hardly anything. */
const NEARLY_ALL = 0.9;

/** The bands of weighted parts that tell hardly any two cultivars of a selection apart. */
export function outrunBands(ledger: Ledger, selection: Selection): readonly OutrunBand[] {
  const { weights, bands } = ledger.trial.rank;
  const weighted = [...bands].filter(([part]) => (weights.get(part) ?? 0) > 0);
  if (weighted.length === 0) return [];
  const records = selectRecords(ledger, selection);
  return CROPS.flatMap((crop) => {
    const byCultivar = groupBy(
      records.filter((record) => record.crop === crop),
      ({ tree }) => tree.cultivar,
    );
    return weighted.flatMap(([part, band]): OutrunBand[] => {
      const values = [...byCultivar.values()].flatMap((own) => {
        const parts = own.flatMap(
          (record) => PART_OF_RECORD[part](record, ledger.trial.frost.get(record.season)) ?? [],
        );
        const of = total(parts, (one) => one.of);
        return of > 0 ? [total(parts, ({ sum }) => sum) / of] : [];
      });
      if (values.length < LEAST) return [];
      const [first, last] = [band[0], band.at(-1)];
      const sides = [
        ['below', first, (value: number) => first !== undefined && value < first[0]],
        ['above', last, (value: number) => last !== undefined && value > last[0]],
      ] as const;
      return sides.flatMap(([side, end, isBeyond]) => {
        const beyond = values.filter(isBeyond).length;
        return end === undefined || beyond < NEARLY_ALL * values.length
          ? []
          : [{ part, crop, side, beyond, of: values.length, end }];
      });
    });
  });
}
