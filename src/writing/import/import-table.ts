import { CATALOGUE } from '../../entries/catalogue.ts';
import type { Kind } from '../../entries/kind.ts';
import type { Ledger, SeasonSection } from '../../model/ledger.ts';
import type { Entered, Listing } from '../listing.ts';
import type { NewEntry } from '../new-entry.ts';
import { amountWords, decimalSignOf } from '../typed-number.ts';
import type { CellReading } from './cells.ts';
import { type DateOrder, dateOrderOf, isUnclearDate } from './column-dates.ts';
import {
  columnFields,
  followingColumns,
  guessMapping,
  type ImportKind,
  isExported,
  isListed,
  isOfSittings,
  type ListedKind,
  type Mapping,
} from './columns.ts';
import { entryOfRow, type ReadColumn } from './import-row.ts';
import { listingOfRow } from './listing-row.ts';
import { type Placing, withOrders } from './place-orders.ts';
import { readTable, type TextRow, type TextTable } from './read-table.ts';

export interface ImportOptions<Kind extends ImportKind = SeasonSection> {
  readonly section: Kind;
  readonly ledger: Ledger;
  /** Where the columns go, by header; guessed from the headers where it is not given. */
  readonly mapping?: Mapping;
  /** Headers that are left out on purpose. */
  readonly leaveOut?: readonly string[];
  /** Values for all rows, by field: { crop: 'early' }. A cell goes before them. */
  readonly fixed?: Readonly<Record<string, string>>;
  /** Which comes first in dates such as 5/6/2026, where no row tells. */
  readonly dateOrder?: DateOrder;
  /** The decimal sign, where it is said; else the numbers tell, and then the ledger. */
  readonly decimal?: 'comma' | 'point';
}

/** A row that could not be read, in full, so that nothing is lost. */
export interface Reject {
  readonly line: number;
  readonly reason: string;
  readonly cells: readonly string[];
}

export interface Imported<One extends Entered = NewEntry> {
  readonly entries: readonly One[];
  readonly rejects: readonly Reject[];
  /** What is wrong with the table as a whole; then there are no entries. */
  readonly problems: readonly { readonly message: string; readonly advice: string }[];
  readonly mapping: Mapping;
  /** Columns that were left out without being told to. */
  readonly ignored: readonly string[];
}

/**
 * Entries from a table of comma, semicolon or tab separated text. A row is taken whole or not at
 * all: what cannot be read is handed back with its line and the reason.
 */
export function importTable(text: string, options: ImportOptions): Imported {
  const { section, fixed = {} } = options;
  const placings = new Map<NewEntry, Placing>();
  const imported = rowsOf<NewEntry>(text, options, (row, { columns, reading, headers }, before) => {
    const ofSittings = section === 'tastings' && isOfSittings(headers);
    const made = entryOfRow(row, columns, reading, { section, fixed, ofSittings }, before);
    if ('entry' in made && made.placing !== undefined) placings.set(made.entry, made.placing);
    return made;
  });
  return { ...imported, entries: withOneSitting(withOrders(imported.entries, placings)) };
}

/** Entries of a day with one sitting, which need not say of which they are. */
function withOneSitting(entries: readonly NewEntry[]): readonly NewEntry[] {
  const days = new Map<string, Set<string | undefined>>();
  for (const one of entries) {
    if (one.section !== 'tastings') continue;
    const { on } = one.entry;
    days.set(on, (days.get(on) ?? new Set()).add(one.sitting));
  }
  return entries.map((one) => {
    if (one.section !== 'tastings' || days.get(one.entry.on)?.size !== 1) return one;
    return { section: one.section, entry: one.entry };
  });
}

/** Cultivars or trees from a table, in the same way. */
export function importListings(
  text: string,
  options: ImportOptions<ListedKind>,
): Imported<Listing> {
  const { section, fixed = {} } = options;
  return rowsOf<Listing>(text, options, (row, { columns, reading }, before) =>
    listingOfRow(row, columns, reading, { section, fixed }, before),
  );
}

interface Reading {
  readonly columns: readonly ReadColumn[];
  readonly reading: CellReading;
  readonly headers: readonly string[];
}

function rowsOf<One extends Entered>(
  text: string,
  options: ImportOptions<ImportKind>,
  read: (
    row: TextRow,
    reading: Reading,
    before: readonly One[],
  ) => { readonly entry: One } | { readonly reasons: readonly string[] },
): Imported<One> {
  const table = readTable(text);
  const none = { entries: [], rejects: [], mapping: {}, ignored: [] };
  if ('message' in table) return { ...none, problems: [table] };
  const { ledger, section, fixed = {}, leaveOut = [] } = options;
  const { headers } = table;
  const traits = ledger.trial.traits;
  const mapping = options.mapping ?? guessMapping(headers, section, traits).mapping;
  const known = [...leaveOut, ...followingColumns(headers)];
  const ignored = headers.filter(
    (header) => header !== '' && !Object.hasOwn(mapping, header) && !known.includes(header),
  );
  const columns = columnsOf(table, mapping, section, traits);
  const ofSittings = section === 'tastings' && isOfSittings(headers);
  const problems = [
    ...unheadedColumns(table),
    ...missingColumns(columns, section, ofSittings ? { tree: '', ...fixed } : fixed, {
      ignored,
      likely: (key) => likelyColumn(table, ignored, key, options.ledger),
    }),
    ...unknownTargets(columns, mapping, table, section),
    ...doubledColumns(columns),
    ...(section === 'tastings' ? sittingProblems(table, columns) : []),
    ...dateProblems(table, columns, options.dateOrder),
  ];
  if (problems.length > 0) return { ...none, problems, mapping, ignored };
  const reading: CellReading = {
    ledger,
    dateOrder: options.dateOrder ?? decidedOrder(table, columns) ?? 'day',
    isExported: isExported(headers),
    sign: options.decimal ?? decimalSignOf(numbersOf(table, columns), ledger.trial.decimal),
  };
  const entries: One[] = [];
  const rejects: Reject[] = [];
  for (const row of table.rows) {
    const made = read(row, { columns, reading, headers }, entries);
    const beyond = cellsBeyond(row, table);
    if ('entry' in made && beyond === undefined) {
      entries.push(made.entry);
      continue;
    }
    const reasons = [...(beyond ?? []), ...('entry' in made ? [] : made.reasons)];
    rejects.push({ line: row.line, reason: reasons.join('; '), cells: row.cells });
  }
  return { entries, rejects, problems: [], mapping, ignored };
}

/** Columns that hold something under no heading, of which nobody could say that they are left out. */
function unheadedColumns({ headers, rows }: TextTable): Imported['problems'] {
  return headers.flatMap((header, at) => {
    const cell = rows.map(({ cells }) => cells[at] ?? '').find((one) => one !== '');
    if (header !== '' || cell === undefined) return [];
    return {
      message: `column ${at + 1} has no heading, and holds ${cell}`,
      advice: 'give it one in the first line; a heading that means nothing here is left out',
    };
  });
}

/** Why a row that is longer than the headings cannot be taken: 52,4 may have been one number. */
function cellsBeyond(
  { cells }: TextRow,
  { headers, delimiter }: TextTable,
): readonly [string] | undefined {
  const beyond = cells.slice(headers.length).filter((cell) => cell !== '');
  if (beyond.length === 0) return undefined;
  const comma = delimiter === ',' ? '; a number or text with a comma in it goes in quotes' : '';
  return [`the row is longer than the headings, by ${beyond.join(' and ')}${comma}`];
}

function columnsOf(
  table: TextTable,
  mapping: Mapping,
  section: ImportKind,
  traits: readonly string[],
): readonly ReadColumn[] {
  return table.headers.flatMap((header, at): ReadColumn[] => {
    const target = Object.hasOwn(mapping, header) ? mapping[header] : undefined;
    if (target === undefined) return [];
    const field = columnFields(section).find(({ key }) => key === target.to);
    const isTrait = field === undefined && section === 'tastings' && traits.includes(target.to);
    return [{ at, header, target, field, isTrait }];
  });
}

/** The numbers of the table, by which the decimal sign is known. */
function numbersOf(table: TextTable, columns: readonly ReadColumn[]) {
  return columns.flatMap((column) => {
    const holds = column.field?.holds ?? { kind: 'number' };
    if (!['amount', 'number', 'whole'].includes(holds.kind)) return [];
    const isOnly = columns.filter(({ target }) => target.to === column.target.to).length === 1;
    const inList = holds.kind === 'amount' && holds.list === 'commas' && isOnly;
    return table.rows
      .flatMap(({ cells }) => amountWords(cells[column.at] ?? ''))
      .map((text) => ({ text, inList }));
  });
}

/** Columns that give one field twice; only fruit weighed one by one may have a column each. */
function doubledColumns(columns: readonly ReadColumn[]): Imported['problems'] {
  const fields = new Map<string, ReadColumn[]>();
  for (const column of columns) {
    const { field, target } = column;
    if (field?.holds.kind === 'amount' && field.holds.list !== undefined) continue;
    fields.set(target.to, [...(fields.get(target.to) ?? []), column]);
  }
  return [...fields].flatMap(([key, own]) => {
    if (own.length < 2) return [];
    const names = own.map(({ header, at }) => `${header} (column ${at + 1})`);
    const last = names.pop();
    return {
      message: `${own.length === 2 ? 'two' : own.length} columns give ${nameOf(key)}: ${names.join(', ')} and ${last}`,
      advice: `keep one, and leave the others out, as in --map "${own.at(-1)?.header}="`,
    };
  });
}

/** Rows that tell no sitting on a day of which other rows tell one: nobody knows whose they are. */
function sittingProblems(
  { rows }: TextTable,
  columns: readonly ReadColumn[],
): Imported['problems'] {
  const columnOf = (key: string) => columns.find(({ target }) => target.to === key);
  const [date, sitting] = [columnOf('on'), columnOf('sitting')];
  if (date === undefined || sitting === undefined) return [];
  const told = rows.map(({ line, cells }) => ({ line, on: cells[date.at], of: cells[sitting.at] }));
  const bare = told.find(
    ({ on, of }) => (of ?? '') === '' && told.some((one) => one.on === on && one.of !== of),
  );
  if (bare === undefined) return [];
  const message = `line ${bare.line} tells no ${sitting.header}, as other rows of ${bare.on} do`;
  const advice = `fill the column in, or leave it out with --map "${sitting.header}="`;
  return [{ message, advice }];
}

function nameOf(key: string): string {
  return key === 'on' ? 'the date' : key;
}

function missingColumns(
  columns: readonly ReadColumn[],
  section: ImportKind,
  fixed: Readonly<Record<string, string>>,
  { ignored, likely }: { ignored: readonly string[]; likely: (key: string) => string },
): Imported['problems'] {
  const has = new Set([...columns.map(({ target }) => target.to), ...Object.keys(fixed)]);
  const fields = columnFields(section);
  const lacking = fields.filter(({ key, needed }) => needed && !has.has(key));
  const kind: Kind | undefined = isListed(section) ? undefined : CATALOGUE[section];
  const [some, other] = kind?.needsOneOf ?? [];
  const lacksBoth = some !== undefined && other !== undefined && !has.has(some) && !has.has(other);
  const mapTo = (key: string) => `--map "${likely(key)}=${key}"`;
  const left = ignored.length === 0 ? '' : ` (not understood: ${ignored.join(', ')})`;
  const missing = lacking.map(({ key, also }) => ({
    message: `no column gives ${nameOf(key)}${left}`,
    advice: `name a column ${[key, ...also.slice(0, 3)].join(', ')}, or say which one it is, as in ${mapTo(key)}`,
  }));
  if (!lacksBoth) return missing;
  const whole = columns.find(({ target }) => section === 'picks' && target.to === 'weight');
  const single = `--map "${whole?.header}=weights"`;
  return [
    ...missing,
    whole === undefined
      ? {
          message: `no column gives ${some} or ${other}${left}`,
          advice: `name a column ${some} or ${other}, or say which one it is, as in ${mapTo(other)}`,
        }
      : {
          message: `the column ${whole.header} gives the weight of a whole pick, and no column gives its number of fruit`,
          advice: `if each row is one fruit, say ${single}; else say which column gives the number, as in ${mapTo('fruit')}`,
        },
  ];
}

/** The column that is not understood and holds what a field may, for an example of `--map`. */
function likelyColumn(
  table: TextTable,
  ignored: readonly string[],
  key: string,
  ledger: Ledger,
): string {
  const holds = (header: string) => {
    const at = table.headers.indexOf(header);
    const cell = table.rows.map(({ cells }) => cells[at]?.trim() ?? '').find((one) => one !== '');
    if (cell === undefined) return false;
    if (key === 'on') return /^\d{1,4}[-./]\d{1,2}[-./]\d{1,4}$/.test(cell);
    return key === 'tree' ? ledger.trees.has(cell) : /^\d+(?:[.,]\d+)?$/.test(cell);
  };
  return ignored.find(holds) ?? ignored[0] ?? 'HEADER';
}

function unknownTargets(
  columns: readonly ReadColumn[],
  mapping: Mapping,
  table: TextTable,
  section: ImportKind,
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
      advice: `its fields are ${columnFields(section)
        .map(({ key }) => key)
        .join(', ')}${section === 'tastings' ? ', and the traits of the ledger' : ''}`,
    })),
  ];
}

function datesOf(table: TextTable, columns: readonly ReadColumn[]): readonly string[] {
  return columns
    .filter(({ field }) => ['date', 'partial date'].includes(field?.holds.kind ?? ''))
    .flatMap(({ at }) => table.rows.map(({ cells }) => cells[at] ?? ''));
}

function decidedOrder(table: TextTable, columns: readonly ReadColumn[]): DateOrder | undefined {
  const order = dateOrderOf(datesOf(table, columns));
  return order === 'both' ? undefined : order;
}

function dateProblems(
  table: TextTable,
  columns: readonly ReadColumn[],
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
  return [
    { message, advice: 'say --dates day or --dates month, or write the dates as YYYY-MM-DD' },
  ];
}
