import { FRAME_FILES, type Ledger, type Season } from '../../model/ledger.ts';

/** Whether files were read whole, so that what is missing in them is truly missing. */
export function areWhole(ledger: Ledger, ...paths: readonly string[]): boolean {
  return paths.every((path) => !ledger.incomplete.has(path));
}

/** Whether a season has all its entries. */
export function isWholeSeason(ledger: Ledger, season: Season): boolean {
  return areWhole(ledger, season.at.file.path, ...FRAME_FILES);
}
