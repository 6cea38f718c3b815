import { addExportCommand, filledTables } from '../cli/commands/export.ts';
import type { TableName } from '../cli/table-names.ts';
import type { Ledger } from '../model/ledger.ts';
import type { ExportColumn } from '../report/export/export-table.ts';
import type { Asked } from './asked.ts';
import { optionsFor, todayOf } from './options-for.ts';
import type { ReportRow } from './row-types.ts';

/** A table as the command exports it. */
export interface ExportedTable {
  /** What its rows are. */
  readonly about: string;
  readonly columns: readonly ExportColumn[];
  /** One an observation; a cell for the key of every column. */
  readonly rows: readonly ReportRow[];
}

/** The rows that the command would print as lines of JSON. */
export async function exportedTable(
  ledger: Ledger,
  name: TableName,
  { today, ...words }: Pick<Asked, 'today'>,
): Promise<ExportedTable> {
  const asked = { ...words, table: name };
  const options = optionsFor<{ readonly table: TableName }>(addExportCommand, asked, OF_FILES);
  const [filled] = await filledTables(ledger, options.table, todayOf(today));
  if (filled === undefined) throw new RangeError(`no table ${name}`);
  const { table, rows } = filled;
  return { about: table.about, columns: table.columns, rows };
}

/** A program gets the rows themselves. */
const OF_FILES = ['format', 'decimal', 'output'];
