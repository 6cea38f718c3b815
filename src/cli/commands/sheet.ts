import { type Command, InvalidArgumentError, Option } from 'commander';
import { type IsoDate, parseIsoDate } from '../../model/dates.ts';
import { FIELD_SHEET_FORMATS, type FieldSheetFormat } from '../../render/render-field-sheet.ts';
import { formatOfFile } from '../format-of-file.ts';
import type { Host } from '../host.ts';
import { lookOf } from '../look.ts';
import type { GlobalOptions } from '../open-ledger.ts';
import { fileOption } from '../options.ts';
import { putOut } from '../put-out.ts';

interface SheetOptions extends GlobalOptions {
  readonly on?: IsoDate;
  readonly site: readonly string[];
  readonly format?: FieldSheetFormat;
  readonly output?: string;
}

export function addSheetCommand(program: Command, host: Host): void {
  program
    .command('sheet')
    .description('A sheet to print and carry out: each tree, what is due, boxes to fill in.')
    .addOption(new Option('--on <date>', 'day of the round (default: today)').argParser(parseDay))
    .addOption(
      new Option('--site <key>', 'a site (repeatable)')
        .argParser((key: string, before: readonly string[]) => [...before, key])
        .default([], 'all'),
    )
    .addOption(
      new Option('--format <form>', 'form of the sheet (default: by the file, else text)').choices(
        FIELD_SHEET_FORMATS,
      ),
    )
    .addOption(fileOption('--output <file>', 'write to a file instead of the screen'))
    .addHelpText('after', '\nExample:\n  pomary sheet --on 2026-08-25 --output round.html')
    .action(async (_options: unknown, command: Command) => {
      const options = command.optsWithGlobals<SheetOptions>();
      const { openLedger } = await import('../open-ledger.ts');
      const { selectionOf } = await import('../request.ts');
      const { fieldSheet } = await import('../../report/field-sheet.ts');
      const { renderFieldSheet } = await import('../../render/render-field-sheet.ts');
      const {
        on = today(host),
        site,
        output,
        format = formatOfFile(output, FIELD_SHEET_FORMATS),
      } = options;
      const ledger = await openLedger(host, options);
      const asked = { season: [], crop: [], site, cultivar: [], tree: [] };
      const { sites = [] } = selectionOf(ledger, asked);
      const look = lookOf(host, host.stdout, !options.color || output !== undefined);
      const text = await renderFieldSheet(fieldSheet(ledger, { on, sites }), format, look);
      putOut(host, options, text);
    });
}

function today(host: Host): IsoDate {
  const date = parseIsoDate(host.today());
  if (date === undefined) throw new RangeError(`today is ${host.today()}`);
  return date;
}

function parseDay(text: string): IsoDate {
  const date = parseIsoDate(text);
  if (date === undefined) throw new InvalidArgumentError('Write a date as 2026-08-25.');
  return date;
}
