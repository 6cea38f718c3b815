import { nodeHost } from './node-host.ts';
import { VERSION } from './version.ts';

const argv = process.argv.slice(2);

// The reader of a pipe may leave early (`pomary rank | head -1`): that is no fault.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code === 'EPIPE') process.exit(0);
  throw error;
});

if (argv.length === 1 && (argv[0] === '--version' || argv[0] === '-V')) {
  // Answered before anything else is loaded.
  process.stdout.write(`${VERSION}\n`);
} else {
  const { run } = await import('./cli/run.ts');
  process.exitCode = await run(argv, nodeHost());
}
