import { type Command, Option } from 'commander';
import { DOCUMENT_FORMATS } from '../../render/document.ts';
import type { Host } from '../host.ts';
import type { LineupOptions } from '../lineup-request.ts';
import { fileOption, parseCount, parseDate, withExplain, withSeed } from '../options.ts';

export function addLineupCommand(program: Command, host: Host): void {
  const command = program
    .command('lineup')
    .description('Propose the next tasting: what to taste, blind codes, serving orders, sheets.');
  withExplain(command)
    .addOption(
      new Option('--on <date>', 'day of the tasting (default: today)').argParser(parseDate),
    )
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
      const options = command.optsWithGlobals<LineupOptions>();
      const { openLedger } = await import('../open-ledger.ts');
      const { lineupRequestOf } = await import('../lineup-request.ts');
      const { lineupSheet } = await import('../../report/lineup/lineup-sheet.ts');
      const { lineupDocument } = await import('../../report/lineup/lineup-document.ts');
      const { printDocument } = await import('../print-document.ts');
      const ledger = await openLedger(host, options);
      const request = lineupRequestOf(ledger, options, host.today());
      const sheet = lineupSheet(ledger, request, options.explain);
      const output = options.output ?? options.sheet;
      await printDocument(host, { ...options, output }, lineupDocument(sheet));
      if (options.sheet !== undefined) host.stdout.write(`${sheet.title}: written to ${output}\n`);
    });
}
