import { VERSION } from './version.ts';

const argv = process.argv.slice(2);

process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  // The reader of a pipe may leave early (`pomary rank | head -1`): that is no fault.
  if (error.code === 'EPIPE') process.exit(0);
  void complain(error);
});
// Where even complaints cannot be written there is nobody left to tell.
process.stderr.on('error', () => {});

if (argv.length === 1 && (argv[0] === '--version' || argv[0] === '-V')) {
  // Answered before anything else is loaded.
  process.stdout.write(`${VERSION}\n`);
} else {
  const [{ run }, { nodeHost }] = await Promise.all([
    import('./cli/run.ts'),
    import('./node-host.ts'),
  ]);
  process.exitCode = await run(argv, nodeHost());
}

async function complain(error: unknown): Promise<never> {
  const [{ EXIT }, { reasonOf }] = await Promise.all([
    import('./cli/exit.ts'),
    import('./node-host.ts'),
  ]);
  process.stderr.write(`pomary: cannot write to standard output: ${reasonOf(error)}\n`);
  process.exit(EXIT.file);
}
