import { resolve } from 'node:path';
import { type Command, InvalidArgumentError, Option } from 'commander';
import { hang } from '../../render/text-lines.ts';
import type { ImportKind } from '../../writing/import/columns.ts';
import type { Host } from '../host.ts';
import type { GlobalOptions } from '../open-ledger.ts';
import { decimalOption, fileOption } from '../options.ts';
import type { ImportFileOptions } from '../record/import-table-file.ts';

/**
 * What a row may be, and the fields that its columns may give. They are of the catalogue, which is
 * loaded only to read a table; a test holds them complete.
 */
export const IMPORT_FIELDS: Readonly<Record<ImportKind, string>> = {
  counts: 'on tree crop fruit branches note photo cultivar',
  picks:
    'on tree crop fruit weights weight sample split bird insect animal mould unripe note photo cultivar',
  drops: 'on tree crop fruit note photo cultivar',
  tastings:
    'on sitting tree crop as ripeness brix eye note photo taster trait score place word cultivar, and each trait',
  growth: 'on tree girth height note photo cultivar',
  events:
    'on tree site kind product wait_days after container low dieback fruit note photo moved_to pot_volume target cultivar',
  cultivars: 'name bears also protected note key perhaps why',
  trees:
    'id cultivar received_as from received planted site container rootstock removed note pot_volume',
};
const KINDS = Object.keys(IMPORT_FIELDS);

function fieldLines(): string {
  const width = Math.max(...KINDS.map((kind) => kind.length)) + 2;
  return Object.entries(IMPORT_FIELDS)
    .flatMap(([kind, fields]) => hang(`  ${kind.padEnd(width)}`, fields, 78))
    .join('\n');
}

export function addImportCommand(program: Command, host: Host): void {
  const command = program
    .command('import')
    .description('Take entries, cultivars or trees from a table, saved as CSV.')
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
    .option('--again', 'write rows that the ledger has already once more', false)
    .option('--dry-run', 'show the entries as a table, and write nothing', false)
    .addHelpText('after', () => `\nFields of a row, for --map and --set:\n${fieldLines()}\n`)
    .addHelpText(
      'after',
      'Example:\n  pomary import picks-2025.csv --kind picks --set crop=main --dry-run\n' +
        '  pomary import trees.csv --kind trees --map "Wo=site" --map "Wetter="\n\n' +
        'A file for --map has lines such as\n  Gewicht: weight (kg)\n  Wetter:            # left out\n',
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
