import type { Column, Report } from './table.ts';

/** Someone asks for a column that the table does not have. */
export class UnknownColumn extends Error {
  readonly column: string;
  /** The columns it has. */
  readonly known: readonly Column[];

  constructor(column: string, known: readonly Column[]) {
    const labels = [...new Set(known.map(({ label }) => label))];
    super(`there is no column "${column}"; the columns are ${labels.join('; ')}`);
    this.name = 'UnknownColumn';
    this.column = column;
    this.known = known;
  }
}

/**
 * The column that someone names by its key, or by its label in any case, with its unit or without.
 *
 * @throws UnknownColumn
 */
export function namedColumn(columns: readonly Column[], name: string): Column {
  const found = findColumn(columns, name);
  if (found === undefined) throw new UnknownColumn(name, columns);
  return found;
}

export function findColumn(columns: readonly Column[], name: string): Column | undefined {
  const wanted = plain(name);
  return (
    columns.find(({ key }) => key === name) ??
    columns.find((column) => labelsOf(column).some((label) => plain(label) === wanted)) ??
    columns.find(({ key }) => plain(key) === wanted)
  );
}

function labelsOf({ label, short, unit, kind }: Column): readonly string[] {
  const behind = kind === 'share' ? '%' : unit;
  return [label, ...(short === undefined ? [] : [short])].flatMap((one) => [
    one,
    ...(behind === undefined ? [] : [`${one} (${behind})`]),
  ]);
}

function plain(name: string): string {
  return name.trim().replace(/\s+/g, ' ').toLowerCase();
}

/** In place of a list: every column, in its usual order. */
const EVERY = 'all';

/**
 * The report with the columns that someone chose, in that order. Where people read, either end of an
 * interval stands for the whole of it; and what finds no room goes from the end of the list.
 *
 * @param asked keys or labels with commas between, or `all`; a label may hold a comma
 * @throws UnknownColumn
 */
export function chooseColumns(report: Report, asked: string, forPeople: boolean): Report {
  const found = asked.trim() === EVERY ? report.columns : namedIn(report.columns, asked);
  const chosen = forPeople
    ? withNames(report, found).flatMap((column) => wholeInterval(report.columns, column))
    : found;
  return {
    ...withoutScreen(report),
    columns: [...new Set(chosen)].map((column, at) => ({ ...shown(column), drop: at })),
  };
}

/** What rows stand for, in the order in which it tells two rows apart that would look alike. */
const NAMING = ['cultivar', 'tree', 'crop', 'cover', 'season', 'site'];

/** With what else names the rows, where the names that were chosen would leave two of them alike. */
function withNames({ columns, rows }: Report, found: readonly Column[]): readonly Column[] {
  let names = found.filter(({ key }) => NAMING.includes(key));
  if (names.length === 0) return found;
  const apart = (those: readonly Column[]) =>
    new Set(rows.map((row) => JSON.stringify(those.map(({ key }) => row[key] ?? null)))).size;
  for (const key of NAMING) {
    const column = columns.find((one) => one.key === key);
    if (column === undefined || names.includes(column)) continue;
    if (apart([...names, column]) > apart(names)) names = [...names, column];
  }
  const at = found.findLastIndex((column) => names.includes(column)) + 1;
  const more = names.filter((column) => !found.includes(column));
  return [...found.slice(0, at), ...more, ...found.slice(at)];
}

function withoutScreen({ screen: _, ...report }: Report): Report {
  return report;
}

function shown({ machineOnly: _, ...column }: Column): Column {
  return column;
}

function namedIn(columns: readonly Column[], asked: string): readonly Column[] {
  const pieces = asked.split(',');
  const found: Column[] = [];
  for (let at = 0; at < pieces.length; ) {
    // The longest name first, since a label such as "Ranks, 95 %" holds a comma.
    const until = Array.from({ length: pieces.length - at }, (_, index) => pieces.length - index);
    const end = until.find((one) => findColumn(columns, pieces.slice(at, one).join(',')));
    const column = findColumn(columns, pieces.slice(at, end).join(','));
    if (end === undefined || column === undefined) {
      throw new UnknownColumn((pieces[at] ?? '').trim(), columns);
    }
    found.push(column);
    at = end;
  }
  return found;
}

function wholeInterval(columns: readonly Column[], column: Column): readonly Column[] {
  const low = columns.find(({ upTo }) => upTo === column.key) ?? column;
  const high = columns.find(({ key }) => key === low.upTo);
  return high === undefined ? [column] : [low, high];
}
