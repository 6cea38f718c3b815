import { type IsoDate, parseIsoDate } from '../../model/dates.ts';
import type { Ledger } from '../../model/ledger.ts';
import type { NewEntry } from '../new-entry.ts';
import { guessCrop } from '../shorthand/guess-crop.ts';
import { findTree } from '../shorthand/names.ts';
import { type CellReading, type CellValue, readCell } from './cells.ts';
import { type DateOrder, dateOrderOf, isUnclearDate } from './column-dates.ts';
import { commaSenseOf } from './column-numbers.ts';
import {
  COLUMN_FIELDS,
  type ColumnField,
  type ColumnTarget,
  guessMapping,
  type Mapping,
  type TableSection,
} from './columns.ts';
import { readTable, type TextRow, type TextTable } from './read-table.ts';

export interface ImportOptions {
  readonly section: TableSection;
  readonly ledger: Ledger;
  /** Where the columns go, by header; guessed from the headers where it is not given. */
  readonly mapping?: Mapping;
  /** Values for all rows, by field: { crop: 'early' }. A cell goes before them. */
  readonly fixed?: Readonly<Record<string, string>>;
  /** Which comes first in dates such as 5/6/2026, where no row tells. */
  readonly dateOrder?: DateOrder;
}

/** A row that could not be read, in full, so that nothing is lost. */
export interface Reject {
  readonly line: number;
  readonly reason: string;
  readonly cells: readonly string[];
}

export interface Imported {
  readonly entries: readonly NewEntry[];
  readonly rejects: readonly Reject[];
  /** What is wrong with the table as a whole; then there are no entries. */
  readonly problems: readonly { readonly message: string; readonly advice: string }[];
  readonly mapping: Mapping;
  /** Columns that were left out. */
  readonly ignored: readonly string[];
}

/**
 * Entries from a table of comma, semicolon or tab separated text. A row is taken whole or not at
 * all: what cannot be read is handed back with its line and the reason.
 */
export function importTable(text: string, options: ImportOptions): Imported {
  const table = readTable(text);
  const none = { entries: [], rejects: [], mapping: {}, ignored: [] };
  if ('message' in table) return { ...none, problems: [table] };
  const { ledger, section, fixed = {} } = options;
  const traits = ledger.trial.traits;
  const guessed = guessMapping(table.headers, section, traits);
  const mapping = options.mapping ?? guessed.mapping;
  const ignored = table.headers.filter((header) => header !== '' && mapping[header] === undefined);
  const columns = columnsOf(table, mapping, section, traits);
  const problems = [
    ...missingColumns(columns, section, fixed),
    ...unknownTargets(columns, mapping, table),
    ...dateProblems(table, columns, options.dateOrder),
  ];
  if (problems.length > 0) return { ...none, problems, mapping, ignored };
  const reading: CellReading = {
    ledger,
    dateOrder: options.dateOrder ?? decidedOrder(table, columns) ?? 'day',
    comma: commaSenseOf(
      columns.filter(isNumeric).flatMap(({ at }) => table.rows.map(({ cells }) => cells[at] ?? '')),
    ),
  };
  const entries: NewEntry[] = [];
  const rejects: Reject[] = [];
  for (const row of table.rows) {
    const made = entryOf(row, columns, reading, options, entries);
    if ('section' in made) entries.push(made);
    else rejects.push({ line: row.line, reason: made.reasons.join('; '), cells: row.cells });
  }
  return { entries, rejects, problems: [], mapping, ignored };
}

/** A column that is read. */
interface Column {
  readonly at: number;
  readonly header: string;
  readonly target: ColumnTarget;
  /** Absent where the cells are scores of a trait. */
  readonly field: ColumnField | undefined;
  readonly isTrait: boolean;
}

function columnsOf(
  table: TextTable,
  mapping: Mapping,
  section: TableSection,
  traits: readonly string[],
): readonly Column[] {
  return table.headers.flatMap((header, at): Column[] => {
    const target = Object.hasOwn(mapping, header) ? mapping[header] : undefined;
    if (target === undefined) return [];
    const field = COLUMN_FIELDS[section].find(({ key }) => key === target.to);
    const isTrait = field === undefined && section === 'tastings' && traits.includes(target.to);
    return [{ at, header, target, field, isTrait }];
  });
}

function isNumeric({ field }: Column): boolean {
  return field === undefined || ['amount', 'number', 'whole'].includes(field.holds.kind);
}

function missingColumns(
  columns: readonly Column[],
  section: TableSection,
  fixed: Readonly<Record<string, string>>,
): Imported['problems'] {
  const has = new Set([...columns.map(({ target }) => target.to), ...Object.keys(fixed)]);
  const lacking = COLUMN_FIELDS[section].filter(({ key, needed }) => needed && !has.has(key));
  return lacking.map(({ key, also }) => ({
    message: `no column gives ${key === 'on' ? 'the date' : key}`,
    advice: `name a column ${[key, ...also.slice(0, 3)].join(', ')}, or say which one it is`,
  }));
}

function unknownTargets(
  columns: readonly Column[],
  mapping: Mapping,
  table: TextTable,
): Imported['problems'] {
  const lost = Object.keys(mapping).filter((header) => !table.headers.includes(header));
  const odd = columns.filter(({ field, isTrait }) => field === undefined && !isTrait);
  return [
    ...lost.map((header) => ({
      message: `the table has no column ${header}`,
      advice: `its columns are ${table.headers.join(', ')}`,
    })),
    ...odd.map(({ header, target }) => ({
      message: `the column ${header} is to give ${target.to}, which is no field of such an entry`,
      advice: 'name a field of the entry, or a trait of the ledger for a tasting',
    })),
  ];
}

function datesOf(table: TextTable, columns: readonly Column[]): readonly string[] {
  const column = columns.find(({ field }) => field?.holds.kind === 'date');
  return column === undefined ? [] : table.rows.map(({ cells }) => cells[column.at] ?? '');
}

function decidedOrder(table: TextTable, columns: readonly Column[]): DateOrder | undefined {
  const order = dateOrderOf(datesOf(table, columns));
  return order === 'both' ? undefined : order;
}

function dateProblems(
  table: TextTable,
  columns: readonly Column[],
  given: DateOrder | undefined,
): Imported['problems'] {
  const dates = datesOf(table, columns);
  const order = dateOrderOf(dates);
  if (order === 'both') {
    const message = 'some dates have the day first, others the month';
    return [{ message, advice: 'write all dates as YYYY-MM-DD' }];
  }
  const unclear = dates.find(isUnclearDate);
  if (order !== undefined || given !== undefined || unclear === undefined) return [];
  const message = `${unclear} may have the day or the month first, and no row of the table tells`;
  return [{ message, advice: 'say which comes first, or write the dates as YYYY-MM-DD' }];
}

function entryOf(
  row: TextRow,
  columns: readonly Column[],
  reading: CellReading,
  options: ImportOptions,
  before: readonly NewEntry[],
): NewEntry | { readonly reasons: readonly string[] } {
  const { section, fixed = {} } = options;
  const reasons: string[] = [];
  const values: Record<string, unknown> = {};
  const scores: Record<string, number> = {};
  const put = (key: string, name: string, cell: CellValue) => {
    if ('reason' in cell) reasons.push(`${name}: ${cell.reason}`);
    else values[key] = cell.value;
  };
  for (const field of COLUMN_FIELDS[section]) {
    const column = columns.find(({ target }) => target.to === field.key);
    const cell = column === undefined ? '' : (row.cells[column.at] ?? '');
    const text = cell === '' ? (fixed[field.key] ?? '') : cell;
    if (text === '') {
      if (field.needed === true) reasons.push(`${column?.header ?? field.key} is empty`);
      continue;
    }
    put(
      field.key,
      column?.header ?? field.key,
      readCell(text, field.holds, reading, column?.target.unit),
    );
  }
  for (const { at, header, target, isTrait } of columns) {
    const text = row.cells[at] ?? '';
    if (!isTrait || text === '') continue;
    const cell = readCell(text, { kind: 'number' }, reading);
    const { low, high } = reading.ledger.trial.scale;
    if ('reason' in cell) reasons.push(`${header}: ${cell.reason}`);
    else if (Number(cell.value) < low || Number(cell.value) > high) {
      reasons.push(`${header}: ${text} is off the scale, which runs from ${low} to ${high}`);
    } else scores[target.to] = Number(cell.value);
  }
  if (section !== 'growth' && values['crop'] === undefined && reasons.length === 0) {
    const crop = cropFor(values, reading.ledger, before);
    if (crop === undefined) reasons.push('the crop is not given, and two can be meant');
    else values['crop'] = crop;
  }
  reasons.push(...rowProblems(section, values, scores));
  return reasons.length > 0 ? { reasons } : made(section, values, scores);
}

function cropFor(
  values: Readonly<Record<string, unknown>>,
  ledger: Ledger,
  before: readonly NewEntry[],
): string | undefined {
  const tree = findTree(ledger, String(values['tree']));
  const date: IsoDate | undefined = parseIsoDate(String(values['on']));
  if (tree.kind !== 'one' || date === undefined) return undefined;
  return guessCrop(ledger, tree.thing, date, before)?.crop;
}

function rowProblems(
  section: TableSection,
  values: Readonly<Record<string, unknown>>,
  scores: Readonly<Record<string, number>>,
): readonly string[] {
  const { fruit, weights, weight, girth, height, taster } = values;
  if (section === 'picks') {
    if (fruit === undefined && weights === undefined) {
      return [
        weight === undefined
          ? 'neither fruit nor weights are given'
          : 'the weight of a pick needs its number of fruit; if each row is one fruit, the column gives weights',
      ];
    }
    const weighed = Array.isArray(weights) ? weights.length : 0;
    if (typeof fruit === 'number' && weighed > fruit) {
      return [`there are ${weighed} weights, but fruit is ${fruit}`];
    }
  }
  if (section === 'growth' && girth === undefined && height === undefined) {
    return ['neither girth nor height is given'];
  }
  const unsigned = section === 'tastings' && Object.keys(scores).length > 0 && taster === undefined;
  return unsigned ? ['the scores have no taster'] : [];
}

function made(
  section: TableSection,
  values: Readonly<Record<string, unknown>>,
  scores: Readonly<Record<string, number>>,
): NewEntry {
  if (section !== 'tastings') return { section, entry: values } as unknown as NewEntry;
  const { on, taster, ...sample } = values;
  const label = String(sample['as'] ?? sample['tree']);
  const scored =
    Object.keys(scores).length > 0 ? { [String(taster)]: { [label]: scores } } : undefined;
  const entry = { on, samples: [sample], ...(scored === undefined ? {} : { scores: scored }) };
  return { section, entry } as unknown as NewEntry;
}
