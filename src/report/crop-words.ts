import type { Crop, Ledger } from '../model/ledger.ts';

/** "Early crop (breba)": the crop as a heading, with the ledger's own word for it. */
export function cropHeading(ledger: Ledger, crop: Crop): string {
  const own = ledger.trial.cropNames[crop];
  const plain = crop === 'early' ? 'Early crop' : 'Main crop';
  return own === crop ? plain : `${plain} (${own})`;
}
