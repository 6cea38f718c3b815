import { type Command, Option } from 'commander';
import type { IsoDate } from '../../model/dates.ts';
import type { Ledger } from '../../model/ledger.ts';
import { DOCUMENT_FORMATS } from '../../render/document.ts';
import type { Document } from '../../report/document.ts';
import type { Host } from '../host.ts';
import type { LineupOptions } from '../lineup-request.ts';
import type { GlobalOptions } from '../open-ledger.ts';
import {
  commaWords,
  fileOption,
  parseCount,
  parseDate,
  withExplain,
  withSeed,
} from '../options.ts';

export function addLineupCommand(program: Command, host: Host): void {
  const command = program
    .command('lineup')
    .description('Propose the next tasting: what to taste, blind codes, serving orders, sheets.');
  withExplain(command)
    .addOption(
      new Option('--on <date>', 'day of the tasting (default: today)').argParser(parseDate),
    )
    .addOption(new Option('--samples <n>', 'samples at most').argParser(parseCount).default(5))
    .addOption(commaWords('--tasters <keys>', 'who tastes', 'everyone in ledger.yaml'))
    .option('--crop <crop>', "early or main, or the ledger's word (default: what tells more)")
    .addOption(
      new Option(
        '--for <what>',
        'what the sitting is to clear up: the order of the best, or verdicts',
      )
        .choices(['order', 'verdict'])
        .default('order'),
    )
    .addOption(
      commaWords('--candidates <keys>', 'choose from these cultivars, ripe or not', 'what is ripe'),
    );
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
      const { openForReport } = await import('../open-ledger.ts');
      const { printDocument } = await import('../print-document.ts');
      const page = await lineupPage(await openForReport(host, options), options, host.today());
      const output = options.output ?? options.sheet;
      await printDocument(host, { ...options, output }, page);
      if (options.sheet !== undefined) host.stdout.write(`${page.title}: written to ${output}\n`);
    });
}

/** The sheets that its options ask for. */
export async function lineupPage(
  ledger: Ledger,
  options: Omit<LineupOptions, keyof GlobalOptions>,
  today: IsoDate,
): Promise<Document> {
  const { lineupRequestOf } = await import('../lineup-request.ts');
  const { lineupSheet } = await import('../../report/lineup/lineup-sheet.ts');
  const { lineupDocument } = await import('../../report/lineup/lineup-document.ts');
  const request = lineupRequestOf(ledger, options, today);
  return lineupDocument(lineupSheet(ledger, request, options.explain));
}
