import type { LocatedDiagnostic } from '../../diagnostics/diagnostic.ts';
import { namesInWords } from '../../diagnostics/phrases.ts';
import type { Ledger } from '../../model/ledger.ts';
import { located } from '../../reading/yaml-locate.ts';
import { readYaml } from '../../reading/yaml-read.ts';
import { csvText } from '../../render/csv.ts';
import type { Cell, Column, Report, Row } from '../../report/table.ts';
import { positionAt } from '../../source/position.ts';
import type { SourceFile } from '../../source/source-file.ts';
import {
  type ColumnTarget,
  countedRows,
  headerParts,
  type ImportKind,
} from '../../writing/import/columns.ts';
import type { Imported } from '../../writing/import/import-table.ts';
import type { TextTable } from '../../writing/import/read-table.ts';
import { type Entered, isListing } from '../../writing/listing.ts';
import { isFileMap } from '../../writing/new-entry.ts';
import { UsageError } from '../exit.ts';
import type { SortedEntries } from './sort-entries.ts';

/** What an import would write, a row an entry. */
export function importReport(
  ledger: Ledger,
  section: ImportKind,
  imported: Imported<Entered>,
  entries: readonly Entered[],
): Report {
  const rows = entries.map(rowOf);
  const keys = [...new Set(rows.flatMap((row) => Object.keys(row)))];
  const columns = keys.map((key, index): Column => {
    const isNumber = rows.every((row) => ['number', 'undefined'].includes(typeof row[key]));
    const digits = Math.max(...rows.map((row) => decimalsOf(row[key])));
    const kind = key === 'on' ? 'date' : isNumber ? 'number' : 'text';
    return { key, label: key, kind, digits, drop: index < 3 ? 0 : index };
  });
  const sent = Object.entries(imported.mapping).map(([header, { to, unit }]) =>
    unit === undefined ? `${header} gives ${to}` : `${header} gives ${to} in ${unit}`,
  );
  const ignored = imported.ignored.length > 0 ? [`Left out: ${imported.ignored.join(', ')}.`] : [];
  return {
    report: 'import',
    title: `What would be written: ${countedRows(entries.length, section)}${ofYears(entries)}`,
    ledgerTitle: ledger.trial.title,
    selection: {},
    columns,
    rows,
    notes: [`${sent.join('; ')}.`, ...ignored].map((text) => ({ kind: 'method' as const, text })),
  };
}

/** The years of entries, which days in one of them alone do not say. */
function ofYears(entries: readonly Entered[]): string {
  const years = new Set(
    entries.flatMap((one) => (isListing(one) ? [] : [one.entry.on.slice(0, 4)])),
  );
  return years.size === 0 ? '' : ` of ${namesInWords([...years].sort())}`;
}

/** An entry flat: of a tasting its sample, its taster and the scores. */
function rowOf(one: Entered): Row {
  if (isListing(one))
    return { key: one.key, ...flat(typeof one.entry === 'string' ? {} : one.entry) };
  const { section, entry } = one;
  if (section !== 'tastings') return flat(entry);
  const [sample] = entry.samples;
  const [scored] = Object.entries(entry.scores ?? {});
  const taster = scored === undefined ? {} : { taster: scored[0] };
  return flat({ on: entry.on, ...sample, ...taster, ...Object.values(scored?.[1] ?? {})[0] });
}

function flat(fields: object): Row {
  const row: Record<string, Cell> = {};
  for (const [key, value] of Object.entries(fields)) {
    if (Array.isArray(value)) row[key] = value.join(', ');
    else if (!isFileMap(value) && value !== undefined) row[key] = value as Cell;
  }
  return row;
}

function decimalsOf(cell: Cell | undefined): number {
  return typeof cell === 'number' ? (String(cell).split('.')[1]?.length ?? 0) : 0;
}

/** Where a map sends the columns it names; null leaves a column out. */
export type ColumnMap = Readonly<Record<string, ColumnTarget | null>>;

/**
 * A map of columns: a YAML file that says for a header which field it gives, with a unit in
 * brackets, or nothing to leave the column out: `Gewicht: weight (kg)`. Throws a `UsageError` for
 * anything else.
 */
export function readColumnMap(
  file: SourceFile,
): { readonly map: ColumnMap } | { readonly problems: readonly LocatedDiagnostic[] } {
  const { value, diagnostics } = readYaml(file);
  if (diagnostics.length > 0) return { problems: located(diagnostics) };
  if (!isFileMap(value)) {
    throw new UsageError(`--map ${file.path} says nothing; write a line a column, as in Tag: on`);
  }
  const map: Record<string, ColumnTarget | null> = {};
  for (const [header, target] of Object.entries(value)) {
    if (target === null) map[header] = null;
    else if (typeof target === 'string') map[header] = targetOf(target);
    else {
      throw new UsageError(
        `--map ${file.path}: ${header} needs the name of a field behind it, as in ${header}: weight (oz)`,
      );
    }
  }
  return { map };
}

/** One column as it is said on the command line, `Gewicht=weight (kg)`, if it is one. */
export function columnSaid(text: string): ColumnMap | undefined {
  const [, header, target = ''] = /^(.+)=([^=]*)$/.exec(text.trim()) ?? [];
  if (header === undefined) return undefined;
  return { [header.trim()]: target.trim() === '' ? null : targetOf(target.trim()) };
}

function targetOf(text: string): ColumnTarget {
  const { unit } = headerParts(text);
  const to = text.replace(/\s*[([].*$/, '').trim();
  return unit === undefined ? { to } : { to, unit };
}

/**
 * The rows that were not taken, in full and parted as they were, with the reasons in a last column:
 * mend it and import it.
 */
export function rejectsCsv(table: TextTable, { faulty, said }: SortedEntries): string {
  const lineOf = (at: SortedEntries['faulty'][number]['at']) => positionAt(at.file, at.start).line;
  const keys = [...table.headers, freeName(table.headers)];
  const rows = faulty.map(({ at }) => {
    const cells = table.rows.find(({ line }) => line === lineOf(at))?.cells ?? [];
    const reasons = said.filter(
      (one) => one.severity === 'error' && one.at.file === at.file && one.at.start === at.start,
    );
    const reason = reasons.map(({ message }) => message).join('; ') || UNREADABLE;
    const all = [...keys.slice(0, -1).map((_, index) => cells[index] ?? ''), reason];
    return Object.fromEntries(all.map((cell, index) => [`column ${index}`, cell]));
  });
  const columns = keys.map((_, index) => ({ key: `column ${index}` }));
  const parted = (names: readonly { readonly key: string }[], records: typeof rows) =>
    csvText(names, records, 'point', table.delimiter);
  const body = parted(columns, rows).split('\n').slice(1).join('\n');
  return (
    parted(
      keys.map((key) => ({ key })),
      [],
    ) + body
  );
}

/** What is wrong with its file is told where it stands. */
const UNREADABLE = 'the file that it belongs to cannot be read';

/** The column of reasons of a table that was handed back, and is mended now. */
export function reasonColumn({ headers }: TextTable): readonly string[] {
  return headers.slice(-1).filter((header) => /^why not(?: again)*$/.test(header));
}

/** A header that an import leaves out and the table does not have. */
function freeName(headers: readonly string[]): string {
  let name = 'why not';
  while (headers.includes(name)) name += ' again';
  return name;
}
