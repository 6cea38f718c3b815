import { mkdirSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { largeLedger, timesLarge } from './large-ledger.ts';

/**
 * Writes a made ledger into a folder, to look at or to profile.
 *
 * Usage: make-ledger FOLDER [times the large one]
 */
const [folder, factor = '1'] = process.argv.slice(2);
if (folder === undefined) throw new Error('name a folder');
for (const [path, text] of largeLedger(timesLarge(Number(factor)), 1)) {
  mkdirSync(dirname(join(folder, path)), { recursive: true });
  writeFileSync(join(folder, path), text);
}
