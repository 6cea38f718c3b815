import { type Command, Option } from 'commander';
import type { IsoDate } from '../../model/dates.ts';
import type { Ledger } from '../../model/ledger.ts';
import { DOCUMENT_FORMATS } from '../../render/document.ts';
import type { Document } from '../../report/document.ts';
import type { Host } from '../host.ts';
import type { GlobalOptions } from '../open-ledger.ts';
import { fileOption, parseDate, siteOption } from '../options.ts';
import type { DocumentOptions } from '../print-document.ts';

interface SheetOptions extends GlobalOptions, DocumentOptions {
  readonly on?: IsoDate;
  readonly site: readonly string[];
}

export function addSheetCommand(program: Command, host: Host): void {
  program
    .command('sheet')
    .description('A sheet to print and carry out: each tree, what is due, boxes to fill in.')
    .addOption(new Option('--on <date>', 'day of the round (default: today)').argParser(parseDate))
    .addOption(siteOption())
    .addOption(
      new Option('--format <form>', 'form of the sheet (default: by the file, else text)').choices(
        DOCUMENT_FORMATS,
      ),
    )
    .addOption(fileOption('--output <file>', 'write to a file instead of the screen'))
    .addHelpText('after', '\nExample:\n  pomary sheet --on 2026-08-25 --output round.html')
    .action(async (_options: unknown, command: Command) => {
      const options = command.optsWithGlobals<SheetOptions>();
      const { openForReport } = await import('../open-ledger.ts');
      const { printDocument } = await import('../print-document.ts');
      const ledger = await openForReport(host, options);
      await printDocument(host, options, await sheetPage(ledger, options, host.today()));
    });
}

/** The sheet that its options ask for. */
export async function sheetPage(
  ledger: Ledger,
  { on, site }: Pick<SheetOptions, 'on' | 'site'>,
  today: IsoDate,
): Promise<Document> {
  const { selectionOf } = await import('../request.ts');
  const { fieldSheet } = await import('../../report/sheet/field-sheet.ts');
  const asked = { season: [], crop: [], site, cultivar: [], tree: [] };
  const { sites = [] } = selectionOf(ledger, asked);
  return fieldSheet(ledger, { on: on ?? today, sites });
}
