import { resolve } from 'node:path';
import { type Command, InvalidArgumentError, Option } from 'commander';
import type { Section } from '../../entries/catalogue.ts';
import type { Host } from '../host.ts';
import type { GlobalOptions } from '../open-ledger.ts';
import { decimalOption, fileOption } from '../options.ts';
import type { ImportFileOptions } from '../record/import-table-file.ts';

const KINDS: readonly Section[] = ['counts', 'picks', 'drops', 'tastings', 'growth', 'events'];

export function addImportCommand(program: Command, host: Host): void {
  const command = program
    .command('import')
    .description('Take entries from a table of a spreadsheet, saved as CSV.')
    .argument('<file>', 'comma, semicolon or tab separated text; its first line names the columns')
    .addOption(new Option('--kind <section>', 'what a row is').choices(KINDS).makeOptionMandatory())
    .addOption(
      new Option(
        '--map <header=field>',
        'the field that a column gives, nothing to leave it out (repeatable); or a YAML file with a line a column',
      )
        .argParser((text: string, before: readonly string[]) => [...before, text])
        .default([], 'as the headers say'),
    )
    .addOption(
      new Option('--set <field=value>', 'a value for all rows (repeatable), as in crop=early')
        .argParser((text: string, before: Record<string, string>) => ({
          ...before,
          ...parseFixed(text),
        }))
        .default({}, 'none'),
    )
    .addOption(
      new Option('--dates <first>', 'what comes first in dates such as 5/6/2026').choices([
        'day',
        'month',
      ]),
    )
    .addOption(decimalOption('the decimal sign, where the numbers do not tell'))
    .addOption(
      fileOption(
        '--rejects <file>',
        'write the rows that cannot be taken to this CSV file, with reasons',
      ),
    )
    .option('--keep-good', 'take the good rows although others cannot be taken', false)
    .option('--dry-run', 'show the entries as a table, and write nothing', false)
    .addHelpText(
      'after',
      '\nExample:\n  pomary import picks-2025.csv --kind picks --set crop=main --dry-run\n\n' +
        'A map has lines such as\n  Gewicht: weight (kg)\n  Wetter:            # left out\n',
    )
    .action(async (name: string) => {
      const options = command.optsWithGlobals<ImportFileOptions & GlobalOptions>();
      const { openDesk } = await import('../record/desk.ts');
      const { readText } = await import('../record/read-text.ts');
      const { importTableFile } = await import('../record/import-table-file.ts');
      const file =
        name === '-'
          ? { path: 'standard input', text: await host.stdin.readAll(), bom: false }
          : readText(host, resolve(host.cwd, name), name);
      await importTableFile(await openDesk(host, options), file, options);
    });
}

function parseFixed(text: string): Readonly<Record<string, string>> {
  const [, field, value] = /^([a-z_]+)=(.+)$/i.exec(text.trim()) ?? [];
  if (field === undefined || value === undefined) {
    throw new InvalidArgumentError('Write a field and its value, as in crop=early.');
  }
  return { [field]: value.trim() };
}
