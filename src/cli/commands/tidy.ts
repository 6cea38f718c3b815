import { join, relative, resolve } from 'node:path';
import type { Command } from 'commander';
import { Finished, UsageError } from '../exit.ts';
import { findLedger, readFiles } from '../find-ledger.ts';
import type { Host } from '../host.ts';
import type { GlobalOptions } from '../open-ledger.ts';

interface TidyCommandOptions extends GlobalOptions {
  readonly check: boolean;
  readonly dryRun: boolean;
}

export function addTidyCommand(program: Command, host: Host): void {
  const command = program
    .command('tidy')
    .description(
      'Put files in their one form: entries by date, keys in order; nothing else changes.',
    )
    .argument('[files...]', 'files of the ledger; all of them if left out')
    .option('--check', 'list the files that are not tidy, and end with status 1', false)
    .option('--dry-run', 'show what would change, and write nothing', false)
    .addHelpText('after', '\nExample:\n  pomary tidy --dry-run seasons/2026.yaml')
    .action(async (files: readonly string[]) => {
      const options = command.optsWithGlobals<TidyCommandOptions>();
      if (options.check && options.dryRun) {
        throw new UsageError('--check lists the files and --dry-run shows the changes; give one');
      }
      const folder = findLedger(host, options.ledger);
      const { tidyFiles } = await import('../record/tidy-files.ts');
      const status = await tidyFiles(host, folder, pathsOf(host, folder, files), options);
      if (status !== undefined) throw new Finished(status);
    });
}

/** Paths in the ledger folder. Throws a `UsageError` for a file that is none of the ledger's own. */
function pathsOf(host: Host, folder: string, files: readonly string[]): readonly string[] {
  const own = readFiles(host, folder)
    .map(({ path }) => path)
    .filter((path) => path.endsWith('.yaml'));
  if (files.length === 0) return own;
  return files.map((file) => {
    const path = relative(folder, resolve(host.cwd, file)).replaceAll('\\', '/');
    if (own.includes(path)) return path;
    const there = host.files.kind(join(folder, path)) !== 'none';
    throw new UsageError(
      `${file} is ${there ? 'no YAML file of the ledger' : 'not there'}; its files are ${own.join(', ')}`,
    );
  });
}
