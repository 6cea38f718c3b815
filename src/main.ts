import { EXIT } from './cli/exit.ts';
import { run } from './cli/run.ts';
import { nodeHost, reasonOf } from './host/node-host.ts';

/** Whether any entry went into a ledger. */
let hasWritten = false;

process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  // The reader of a pipe may leave early (`pomary rank | head -1`): that is no fault.
  if (error.code === 'EPIPE') process.exit(EXIT.done);
  process.stderr.write(`pomary: cannot write to standard output: ${reasonOf(error)}\n`);
  // Whoever sees only the error would enter them a second time.
  if (hasWritten) {
    process.stderr.write('The entries are written all the same: do not enter them again.\n');
  }
  process.exit(EXIT.file);
});
// Where even complaints cannot be written there is nobody left to tell.
process.stderr.on('error', () => {});

const host = nodeHost(() => {
  hasWritten = true;
});
void run(process.argv.slice(2), host).then((code) => {
  process.exitCode = code;
});
