import type { Column } from './table.ts';

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
