import { type Command, InvalidArgumentError, Option } from 'commander';
import { type IsoDate, parseIsoDate } from '../../model/dates.ts';
import { DOCUMENT_FORMATS } from '../../render/document.ts';
import type { Host } from '../host.ts';
import type { LineupOptions } from '../lineup-request.ts';
import { fileOption, parseCount, withExplain, withSeed } from '../options.ts';

export function addLineupCommand(program: Command, host: Host): void {
  const command = program
    .command('lineup')
    .description('Propose the next tasting: what to taste, blind codes, serving orders, sheets.');
  withExplain(command)
    .addOption(new Option('--on <date>', 'day of the tasting (default: today)').argParser(parseDay))
    .addOption(new Option('--samples <n>', 'samples at most').argParser(parseCount).default(5))
    .option('--tasters <keys>', 'who tastes, with commas (default: everyone in ledger.yaml)')
    .option('--crop <crop>', "early or main, or the ledger's word (default: what tells more)")
    .addOption(
      new Option(
        '--for <what>',
        'what the sitting is to clear up: the order of the best, or verdicts',
      )
        .choices(['order', 'verdict'])
        .default('order'),
    )
    .option('--candidates <keys>', 'choose from these cultivars, ripe or not, with commas');
  withSeed('fixes codes and orders (default: the date)')(command)
    .addOption(
      new Option('--format <form>', 'form of the sheets (default: by the file, else text)').choices(
        DOCUMENT_FORMATS,
      ),
    )
    .addOption(fileOption('--output <file>', 'write to a file instead of the screen'))
    .addOption(fileOption('--sheet <file>', 'the same as --output').conflicts('output'))
    .addHelpText(
      'after',
      '\nExample:\n  pomary lineup --on 2026-09-05 --samples 4 --output tasting.html',
    )
    .action(async () => {
      const { printLineup } = await import('../print-lineup.ts');
      await printLineup(host, command.optsWithGlobals<LineupOptions>());
    });
}

function parseDay(text: string): IsoDate {
  const date = parseIsoDate(text);
  if (date === undefined) throw new InvalidArgumentError('Write a date as 2026-09-05.');
  return date;
}
