import type { Command } from 'commander';
import { Finished, UsageError } from '../exit.ts';
import { findLedger } from '../find-ledger.ts';
import type { Host } from '../host.ts';
import { DRIVER_COMMAND } from '../merge-driver.ts';
import type { GlobalOptions } from '../open-ledger.ts';

interface MergeOptions extends GlobalOptions {
  readonly setup: boolean;
}

export function addMergeCommand(program: Command, host: Host): void {
  program
    .command('merge')
    .description('Join two versions of a file entry by entry; git calls it, once it is told to.')
    .argument(
      '[files...]',
      'the version both began with, that of this branch, the one that comes in; its name',
    )
    .option('--setup', 'mark the files of this ledger for git, and tell what is left to do', false)
    .addHelpText(
      'after',
      `\nTell git once on each computer:\n  ${DRIVER_COMMAND}\n\n` +
        'What either side added, changed or took away goes together into the version of\n' +
        'this branch, marks of a sitting by taster and sample, comments of both. What\n' +
        'contradicts (one mark with two values, changed here and taken away there) stays\n' +
        'between the marks of git, with status 1, and pomary check shows it.\n\n' +
        'Example:\n  pomary merge --setup',
    )
    .action(async (files: readonly string[], _options: unknown, command: Command) => {
      const { setup, ledger } = command.optsWithGlobals<MergeOptions>();
      if (setup) {
        if (files.length > 0) throw new UsageError('--setup stands alone, without files');
        const { setUpMerging } = await import('../record/merge-files.ts');
        return setUpMerging(host, findLedger(host, ledger));
      }
      const [base, ours, theirs, path, ...others] = files;
      if (base === undefined || ours === undefined || theirs === undefined || others.length > 0) {
        throw new UsageError(
          'merge needs three files and may have a name: pomary merge BASE OURS THEIRS PATH; git gives them, once pomary merge --setup has told how',
        );
      }
      const { mergeFiles } = await import('../record/merge-files.ts');
      const status = mergeFiles(host, { base, ours, theirs }, path ?? ours);
      if (status !== undefined) throw new Finished(status);
    });
}
