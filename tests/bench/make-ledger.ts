import { writeLargeLedger } from './write-large-ledger.ts';

/**
 * Writes a made ledger into a folder, to look at or to profile.
 *
 * Usage: make-ledger FOLDER [times the large one]
 */
const [folder, times = '1'] = process.argv.slice(2);
if (folder === undefined) throw new Error('name a folder');
writeLargeLedger(folder, Number(times), 1);
