import { resolve } from 'node:path';
import type { Command } from 'commander';
import { shorthandHelp } from '../../writing/shorthand/help.ts';
import { UsageError } from '../exit.ts';
import type { Host } from '../host.ts';
import type { GlobalOptions } from '../open-ledger.ts';

interface EnterCommandOptions extends GlobalOptions {
  readonly on: string;
  readonly atOnce: boolean;
  readonly keepGood: boolean;
  readonly again: boolean;
  readonly echo: boolean;
  readonly dryRun: boolean;
}

export function addEnterCommand(program: Command, host: Host): void {
  const command = program
    .command('enter')
    .description('Type what was seen, a line an entry; or read such lines from a file or a pipe.')
    .argument('[file]', 'lines of shorthand; - or a pipe is standard input')
    .option('--on <date>', 'the first date, as 2026-07-24, "24 Jul" or yesterday', 'today')
    .option('--at-once', 'at a terminal: write each line at once', false)
    .option('--keep-good', 'of a file or pipe: write the good lines, hand the others back', false)
    .option('--again', 'of a file or pipe: write what the ledger has already once more', false)
    .option('--echo', 'of a file or pipe: tell every entry back, not a line a day', false)
    .option('--dry-run', 'show what would change in the files, and write nothing', false)
    .addHelpText(
      'after',
      () =>
        `\nExamples:\n  pomary enter\n  pomary enter evening.txt --on yesterday\n\nAt a terminal lines wait until done; those of a session that is cut short are kept in the\nfile .pomary-draft of the ledger and offered the next time.\n\nLines:\n${shorthandHelp()}`,
    )
    .action(async (file: string | undefined) => {
      const options = command.optsWithGlobals<EnterCommandOptions>();
      const { firstDate, openDesk } = await import('../record/desk.ts');
      const atTerminal = file === undefined && host.stdin.isTTY && host.stdout.isTTY;
      if (options.atOnce && !atTerminal) {
        throw new UsageError('--at-once is for typing at a terminal; a file is written as a whole');
      }
      const desk = await openDesk(host, options);
      const date = firstDate(options.on, desk);
      if (atTerminal) {
        const { typeEntries } = await import('../record/type-entries.ts');
        return typeEntries(desk, date, options);
      }
      const { enterLines } = await import('../record/enter-lines.ts');
      await enterLines(desk, await linesOf(host, file), date, options);
    });
}

/** The lines of a file, or of standard input. */
async function linesOf(host: Host, file: string | undefined) {
  if (file === undefined || file === '-') {
    return { path: 'standard input', text: await host.stdin.readAll(), bom: false };
  }
  const { readText } = await import('../record/read-text.ts');
  return readText(host, resolve(host.cwd, file), file);
}
