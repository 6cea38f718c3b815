import { mkdirSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { LARGE, largeLedger, timesLarge } from './large-ledger.ts';

/** Writes a made ledger of so many times the large one into a folder, which need not be there. */
export function writeLargeLedger(
  folder: string,
  times: number,
  seed: number,
  seasons = LARGE.seasons,
): void {
  for (const [path, text] of largeLedger({ ...timesLarge(times), seasons }, seed)) {
    mkdirSync(dirname(join(folder, path)), { recursive: true });
    writeFileSync(join(folder, path), text);
  }
}
