import { type Command, InvalidArgumentError, Option } from 'commander';
import type { ChangesOptions } from '../changes-page.ts';
import type { Host } from '../host.ts';
import {
  countOption,
  cropOption,
  parseSeasons,
  repeatable,
  siteOption,
  withDocumentOutput,
} from '../options.ts';

export function addChangesCommand(program: Command, host: Host): void {
  const command = program
    .command('changes')
    .description(
      'What is different between two seasons, or between two revisions of the files in git.',
    )
    .addOption(
      repeatable(
        '--season <year>',
        'the season, the last if left out; with --since those that figures rest on',
        parseSeasons,
      ),
    )
    .addOption(
      new Option('--against <year>', 'the season it is set against, else the one before').argParser(
        parseYear,
      ),
    )
    .addOption(
      new Option('--since <revision>', 'a revision that git knows, or a day').conflicts('against'),
    )
    .option('--until <revision>', 'with --since: another one, the files as they are if left out')
    .addOption(cropOption())
    .addOption(siteOption())
    .addOption(countOption('--top <n>', 'rows of each crop to show in a table', 6));
  withDocumentOutput(command)
    .addHelpText(
      'after',
      '\nExamples:\n  pomary changes --season 2026 --against 2024\n  pomary changes --since HEAD~1',
    )
    .action(async () => {
      const options = command.optsWithGlobals<ChangesOptions>();
      const { printDocument } = await import('../print-document.ts');
      const { changesPage } = await import('../changes-page.ts');
      await printDocument(host, options, await changesPage(host, options));
    });
}

function parseYear(text: string): number {
  if (!/^\d{4}$/.test(text)) throw new InvalidArgumentError('Write a year, as 2025.');
  return Number(text);
}
