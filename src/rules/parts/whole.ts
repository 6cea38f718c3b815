import type { Ledger } from '../../model/ledger.ts';
import type { Spot } from '../../source/source-file.ts';

/** Whether a file was read whole, so that what is missing in it is truly missing. */
export function isWhole(ledger: Ledger, where: { readonly at: Spot } | string): boolean {
  const path = typeof where === 'string' ? where : where.at.file.path;
  return !ledger.incomplete.has(path);
}
