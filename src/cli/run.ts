import { CommanderError } from 'commander';
import { visible } from '../source/visible.ts';
import { EXIT, type ExitCode, Finished, UsageError } from './exit.ts';
import { FileFault, type Host } from './host.ts';
import { buildProgram } from './program.ts';

/**
 * Runs one command line. Nothing is thrown: whatever goes wrong becomes words on standard error and
 * an exit status.
 *
 * @param argv what was typed after `pomary`
 */
export async function run(argv: readonly string[], host: Host): Promise<ExitCode> {
  try {
    const program = buildProgram(host);
    if (argv.length === 0) {
      program.outputHelp();
      return EXIT.done;
    }
    await program.parseAsync(argv, { from: 'user' });
    return EXIT.done;
  } catch (thrown) {
    return explain(thrown, host);
  }
}

function explain(thrown: unknown, host: Host): ExitCode {
  const say = (text: string) => host.stderr.write(`${text}\n`);
  if (thrown instanceof Finished) return thrown.exitCode;
  if (thrown instanceof UsageError) {
    say(`pomary: ${visible(thrown.message)}`);
    return EXIT.usage;
  }
  if (thrown instanceof FileFault) {
    say(`pomary: cannot use ${visible(thrown.path)}: ${thrown.message}`);
    return EXIT.file;
  }
  // Commander has said it already.
  if (thrown instanceof CommanderError) return thrown.exitCode === 0 ? EXIT.done : EXIT.usage;
  const reason = thrown instanceof Error ? thrown.message : String(thrown);
  say(
    `pomary: this is a fault of pomary, not of your ledger (${visible(reason)}); please report it`,
  );
  if (host.env['POMARY_DEBUG'] === '1' && thrown instanceof Error) say(thrown.stack ?? '');
  return EXIT.fault;
}
