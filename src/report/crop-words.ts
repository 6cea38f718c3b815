import type { Selection } from '../measure/selection.ts';
import { COVER_WORDS, type Cover, CROPS, type Crop, type Ledger } from '../model/ledger.ts';

import type { Column, Row } from './table.ts';

/** "Early crop (breba)": the crop as a heading, with the ledger's own word for it. */
export function cropHeading(ledger: Ledger, crop: Crop): string {
  const own = ledger.trial.cropNames[crop];
  const plain = crop === 'early' ? 'Early crop' : 'Main crop';
  return own === crop ? plain : `${plain} (${own})`;
}

/** The ledger's own word for a crop. */
export function cropWord({ trial: { cropNames } }: Ledger, crop: string): string {
  return crop === 'early' || crop === 'main' ? cropNames[crop] : crop;
}

/** "breba crop", "main crop": a crop inside a sentence, in the ledger's own word. */
export function cropPhrase(ledger: Ledger, crop: string): string {
  const word = cropWord(ledger, crop);
  return /\bcrop$/i.test(word) ? word : `${word} crop`;
}

/** "main crop under glass"; the crop alone where covers are not told apart. */
export function placePhrase(
  ledger: Ledger,
  { crop, cover }: { readonly crop: Crop; readonly cover?: Cover | undefined },
): string {
  const phrase = cropPhrase(ledger, crop);
  return cover === undefined ? phrase : `${phrase} ${COVER_WORDS[cover]}`;
}

/** The crop that all rows are of, if there is one. */
export function onlyCrop(
  { crops = [] }: Pick<Selection, 'crops'>,
  rows: readonly Row[],
): string | undefined {
  if (crops.length === 1) return crops[0];
  const [first, ...others] = new Set(rows.map(({ crop }) => crop));
  const isOne = CROPS.some((crop) => crop === first) && others.length === 0;
  return isOne && typeof first === 'string' ? first : undefined;
}

/**
 * The column that tells the crop: people read the ledger's own words, and at any width, since a row
 * without its crop would be taken for the other; only where all rows are of one crop do they read it
 * in the title alone.
 */
export function withCropWords(
  { trial: { cropNames } }: Ledger,
  selection: Pick<Selection, 'crops'>,
  columns: readonly Column[],
  rows: readonly Row[] = [],
): Column[] {
  const both = CROPS.map((crop) => cropNames[crop]).join(', ');
  const only = onlyCrop(selection, rows);
  const words = { ...cropNames, [CROPS.join(', ')]: both };
  return columns.map((column) =>
    column.key === 'crop'
      ? { ...column, drop: 0, words, ...(only === undefined ? {} : { machineOnly: true }) }
      : column,
  );
}
