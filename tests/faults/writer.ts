import { writeSync } from 'node:fs';
import { nodeStore } from '../../src/host/node-store.ts';
import type { NewEntry } from '../../src/writing/new-entry.ts';
import { recordEntries } from '../../src/writing/record-entries.ts';

// A process that records picks one by one, as a person at the keyboard would, and says after each
// that it is on the disk. Arguments: ledger folder, number of entries, a name that marks them.

const [folder = '', count = '0', name = ''] = process.argv.slice(2);
const store = nodeStore(folder);

for (let number = 0; number < Number(count); number++) {
  const day = String(1 + (number % 28)).padStart(2, '0');
  const entry: NewEntry = {
    section: 'picks',
    entry: { on: `2026-07-${day}`, tree: 'G3', crop: 'early', fruit: 1, note: `${name}-${number}` },
  };
  const done = await recordEntries(store, 'seasons/2026.yaml', [entry]);
  // Written at once: a line that waits in a buffer would die with the process.
  const said =
    done.kind === 'recorded' ? `ok ${name}-${number}` : `no ${done.fault?.code ?? 'refused'}`;
  writeSync(1, `${said}\n`);
  if (done.kind !== 'recorded' && !done.entries.includes(`${name}-${number}`)) {
    writeSync(1, 'lost\n');
  }
}
