import { EXIT } from './cli/exit.ts';
import { run } from './cli/run.ts';
import { nodeHost, reasonOf } from './host/node-host.ts';

process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  // The reader of a pipe may leave early (`pomary rank | head -1`): that is no fault.
  if (error.code === 'EPIPE') process.exit(EXIT.done);
  process.stderr.write(`pomary: cannot write to standard output: ${reasonOf(error)}\n`);
  process.exit(EXIT.file);
});
// Where even complaints cannot be written there is nobody left to tell.
process.stderr.on('error', () => {});

void run(process.argv.slice(2), nodeHost()).then((code) => {
  process.exitCode = code;
});
