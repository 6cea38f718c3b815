import type { Selection } from '../measure/selection.ts';
import { CROPS, type Crop, type Ledger } from '../model/ledger.ts';
import type { Column } from './table.ts';

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

/**
 * The column that tells the crop: people read the ledger's own words, and at any width, since a row
 * without its crop would be taken for the other; only where one crop was asked for do they read it
 * in the title alone.
 */
export function withCropWords(
  { trial: { cropNames } }: Ledger,
  { crops = [] }: Pick<Selection, 'crops'>,
  columns: readonly Column[],
): Column[] {
  const both = CROPS.map((crop) => cropNames[crop]).join(', ');
  const words = { ...cropNames, [CROPS.join(', ')]: both };
  return columns.map((column) =>
    column.key === 'crop'
      ? { ...column, drop: 0, words, ...(crops.length === 1 ? { machineOnly: true } : {}) }
      : column,
  );
}
