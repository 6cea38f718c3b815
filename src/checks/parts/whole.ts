import { FRAME_FILES, type Ledger, type Season } from '../../model/ledger.ts';

/** Whether files were read whole, so that what is missing in them is truly missing. */
export function areWhole(ledger: Ledger, ...paths: readonly string[]): boolean {
  return paths.every((path) => !ledger.incomplete.has(path));
}

/** Whether a season has all its entries. */
export function isWholeSeason(ledger: Ledger, season: Season): boolean {
  return areWhole(ledger, season.at.file.path, ...FRAME_FILES);
}

/** Keys of the cultivars that have a tree; undefined where the trees could not all be read. */
export function plantedCultivars(ledger: Ledger): ReadonlySet<string> | undefined {
  if (!areWhole(ledger, 'cultivars.yaml', 'trees.yaml')) return undefined;
  return new Set([...ledger.trees.values()].map(({ cultivar }) => cultivar.key));
}
