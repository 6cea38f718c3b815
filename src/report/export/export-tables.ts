import { collectionTables, treeTables } from './collection-tables.ts';
import { harvestTables, tastingTables } from './entry-tables.ts';
import {
  column,
  defineTable,
  type ExportColumn,
  type ExportTable,
  textField,
} from './export-table.ts';
import { figuresTable } from './figures-table.ts';

const told: readonly ExportTable[] = [
  ...harvestTables,
  ...tastingTables,
  ...treeTables,
  ...collectionTables,
  figuresTable,
];

interface Described {
  readonly table: ExportTable;
  readonly own: ExportColumn;
}

/** The tables told about in a table, so that a folder of them explains itself. */
const columnsTable = defineTable<Described>(
  'columns',
  'What the columns of all tables hold.',
  () => told.flatMap((table) => table.columns.map((own) => ({ table, own }))),
  [
    textField(column('tableName', 'Table.'), ({ table }) => table.name),
    textField(column('columnName', 'Column.'), ({ own }) => own.key),
    textField(column('kind', 'text, date, integer, number or boolean.'), ({ own }) => own.kind),
    textField(column('unit', 'Unit.'), ({ own }) => own.unit),
    textField(
      column('refersTo', 'Table and column that hold every value of this one.'),
      ({ own }) => own.refersTo,
    ),
    textField(column('about', 'What it holds.'), ({ own }) => own.about),
  ],
);

/** Every table that can be exported. */
export const exportTables: readonly ExportTable[] = [...told, columnsTable];
