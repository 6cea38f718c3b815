import type { Ledger, Season } from '../../model/ledger.ts';

/** Entries link to these: what is faulty in them is missing from every season. */
const LINKED = ['ledger.yaml', 'cultivars.yaml', 'trees.yaml'];

/** Whether files were read whole, so that what is missing in them is truly missing. */
export function areWhole(ledger: Ledger, ...paths: readonly string[]): boolean {
  return paths.every((path) => !ledger.incomplete.has(path));
}

/** Whether a season has all its entries. */
export function isWholeSeason(ledger: Ledger, season: Season): boolean {
  return areWhole(ledger, season.at.file.path, ...LINKED);
}
