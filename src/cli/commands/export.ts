import { join, resolve } from 'node:path';
import { type Command, Option } from 'commander';
import type { IsoDate } from '../../model/dates.ts';
import type { Ledger } from '../../model/ledger.ts';
import type { ExportTable } from '../../report/export/export-table.ts';
import type { Row } from '../../report/table.ts';
import { UsageError } from '../exit.ts';
import type { Host } from '../host.ts';
import type { GlobalOptions } from '../open-ledger.ts';
import { decimalOption, fileOption } from '../options.ts';
import { TABLE_NAMES, type TableName } from '../table-names.ts';

interface ExportOptions extends GlobalOptions {
  readonly table?: TableName;
  readonly format: 'csv' | 'jsonl';
  readonly decimal?: 'point' | 'comma';
  readonly output?: string;
}

export function addExportCommand(program: Command, host: Host): void {
  program
    .command('export')
    .description('Tidy tables for a spreadsheet, a database or statistics: a row an observation.')
    .addOption(new Option('--table <name>', 'one table').choices(TABLE_NAMES))
    .addOption(
      new Option('--format <form>', 'form of the tables').choices(['csv', 'jsonl']).default('csv'),
    )
    .addOption(decimalOption('the decimal sign in CSV, if not that of the ledger'))
    .addOption(
      fileOption('--output <path>', 'a folder for all tables, or a file or folder for one'),
    )
    .addHelpText('after', '\nExample:\n  pomary export --output tables')
    .action(async (_options: unknown, command: Command) => {
      const options = command.optsWithGlobals<ExportOptions>();
      const { openForReport } = await import('../open-ledger.ts');
      const place = placeOf(host, options);
      const ledger = await openForReport(host, options);
      const tables = await filledTables(ledger, options.table, host.today());
      const made = await Promise.all(
        tables.map(async ({ table, rows }) => {
          const name = `${table.name}.${options.format}`;
          return { name, ...(await written(rows, table, options, ledger.trial.decimal)) };
        }),
      );
      if (place === undefined) {
        for (const { text } of made) host.stdout.write(text);
      } else if (place.isFolder) {
        host.files.writeAll(made.map(({ name, text }) => ({ path: join(place.path, name), text })));
      } else for (const { text } of made) host.files.write(place.path, text);
      if (options.table !== undefined) return;
      for (const { name, rows } of made) host.stdout.write(`wrote ${name} (${rows} rows)\n`);
    });
}

/** A table that other programs load, with its rows. */
export interface FilledTable {
  readonly table: ExportTable;
  readonly rows: readonly Row[];
}

/** The table of a name, or all of them. */
export async function filledTables(
  ledger: Ledger,
  wanted: TableName | undefined,
  today: IsoDate,
): Promise<readonly FilledTable[]> {
  const { exportTables } = await import('../../report/export/export-tables.ts');
  return exportTables
    .filter(({ name }) => name === (wanted ?? name))
    .map((table) => ({ table, rows: table.rows(ledger, today) }));
}

interface Place {
  readonly path: string;
  readonly isFolder: boolean;
}

/** Where tables go; undefined is standard output, which takes one table. */
function placeOf(host: Host, { table, output }: ExportOptions): Place | undefined {
  if (output === undefined) {
    if (table !== undefined) return undefined;
    throw new UsageError(
      `name a table with --table (${TABLE_NAMES.join(', ')}) or a folder for all of them with --output`,
    );
  }
  const path = resolve(host.cwd, output);
  const kind = host.files.kind(path);
  if (table === undefined && kind !== 'none' && kind !== 'folder') {
    throw new UsageError(`${output} is a file; all tables need a folder`);
  }
  return { path, isFolder: table === undefined || kind === 'folder' || output.endsWith('/') };
}

async function written(
  rows: readonly Row[],
  table: ExportTable,
  { format, decimal }: ExportOptions,
  ofLedger: 'point' | 'comma',
): Promise<{ text: string; rows: number }> {
  if (format === 'csv') {
    const { csvText } = await import('../../render/csv.ts');
    return {
      text: csvText(table.columns, rows.map(inCapitals), decimal ?? ofLedger),
      rows: rows.length,
    };
  }
  const { jsonLines } = await import('../../render/json.ts');
  return { text: jsonLines(rows), rows: rows.length };
}

/** TRUE and FALSE: R takes nothing else for logical, and everything else takes them too. */
function inCapitals(row: Row): Row {
  return Object.fromEntries(
    Object.entries(row).map(([key, cell]) => [
      key,
      typeof cell === 'boolean' ? String(cell).toUpperCase() : cell,
    ]),
  );
}
