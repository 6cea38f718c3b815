import { join, resolve } from 'node:path';
import { diagnose, type LocatedDiagnostic } from '../../diagnostics/diagnostic.ts';
import { rowNotUnderstood } from '../../diagnostics/words/shorthand.ts';
import { located } from '../../reading/yaml-locate.ts';
import { renderReport } from '../../render/render-report.ts';
import { lineText, offsetOfLine, positionAt } from '../../source/position.ts';
import type { SourceFile, Span } from '../../source/source-file.ts';
import { visible } from '../../source/visible.ts';
import {
  countedRows,
  guessMapping,
  type ImportKind,
  isListed,
  type Mapping,
} from '../../writing/import/columns.ts';
import { type Imported, importListings, importTable } from '../../writing/import/import-table.ts';
import { readTable, type TextRow, type TextTable } from '../../writing/import/read-table.ts';
import type { Entered } from '../../writing/listing.ts';
import { EXIT, Finished, UsageError } from '../exit.ts';
import type { Host } from '../host.ts';
import { lookOf } from '../look.ts';
import type { Desk } from './desk.ts';
import {
  type ColumnMap,
  columnSaid,
  importReport,
  readColumnMap,
  reasonColumn,
  rejectsCsv,
} from './import-report.ts';
import type { LinesRead } from './read-lines.ts';
import { readText } from './read-text.ts';
import { partRepeats, tellRepeats } from './repeats.ts';
import { type SortedEntries, sortEntries } from './sort-entries.ts';
import { handBack, tellDiagnostics, tellFailure } from './tell.ts';
import { writePlan } from './write-plan.ts';

export interface ImportFileOptions {
  readonly color: boolean;
  readonly kind: ImportKind;
  /** Files, and columns as they are said. */
  readonly map: readonly string[];
  readonly set: Readonly<Record<string, string>>;
  readonly dates?: 'day' | 'month';
  readonly decimal?: 'comma' | 'point';
  readonly rejects?: string;
  readonly dryRun: boolean;
  readonly keepGood: boolean;
  /** Write what the ledger has already once more. */
  readonly again: boolean;
}

/**
 * Writes the rows of a table into the ledger. All rows are checked first; with any that cannot be
 * taken nothing is written, unless the good ones are to be kept.
 */
export async function importTableFile(
  desk: Desk,
  file: SourceFile,
  options: ImportFileOptions,
): Promise<void> {
  const { host } = desk;
  const noColor = !options.color;
  if (options.rejects !== undefined) refuseOwnFile(desk, options.rejects);
  const { table, imported } = readEntries(desk, file, options);
  const lines = linesOf(file, table, imported);
  const { fresh, repeats } = partRepeats(desk, lines.entries, options.again);
  const sorted = sortEntries(desk, { ...lines, entries: fresh });
  tellDiagnostics(
    host,
    noColor,
    toldOnce(isListed(options.kind) ? sorted.said.filter(isNews) : sorted.said),
  );
  if (sorted.faulty.length > 0 && options.rejects !== undefined) {
    host.files.write(resolve(host.cwd, options.rejects), rejectsCsv(table, sorted));
  }
  tellRepeats(desk, repeats, 'row');
  if (options.dryRun) await tellTable(desk, options, imported, sorted);
  else if (sorted.isFaulty && (!options.keepGood || sorted.isHopeless)) {
    host.stderr.write(
      `Nothing was written. ${sorted.faulty.length} of ${table.rows.length} rows cannot be taken; --keep-good takes the others.\n`,
    );
  } else await write(desk, options, sorted, table, imported);
  if (sorted.isFaulty) throw new Finished(EXIT.ledgerErrors);
}

function readEntries(
  desk: Desk,
  file: SourceFile,
  options: ImportFileOptions,
): { readonly table: TextTable; readonly imported: Imported<Entered> } {
  const { host, ledger } = desk;
  const table = readTable(file.text);
  const { kind: section, set: fixed, dates, decimal } = options;
  const map = mapOf(desk.host, options);
  const mapping = 'headers' in table ? mappingOf(desk, table, options, map) : {};
  const told = Object.keys(map).filter((header) => map[header] === null);
  const leaveOut = [...told, ...('headers' in table ? reasonColumn(table) : [])];
  const asked = {
    ledger,
    mapping,
    leaveOut,
    fixed,
    ...(dates === undefined ? {} : { dateOrder: dates }),
    ...(decimal === undefined ? {} : { decimal }),
  };
  const imported: Imported<Entered> = isListed(section)
    ? importListings(file.text, { ...asked, section })
    : importTable(file.text, { ...asked, section });
  for (const { message, advice } of imported.problems) {
    host.stderr.write(`pomary: ${visible(`${file.path}: ${message}; ${advice}`)}\n`);
  }
  if (imported.problems.length > 0 || !('headers' in table)) throw new Finished(EXIT.ledgerErrors);
  return { table, imported };
}

/** Where columns go: as the map says, and for the others as their headers say. */
function mappingOf(
  desk: Desk,
  table: TextTable,
  options: ImportFileOptions,
  map: ColumnMap,
): Mapping {
  const told = Object.entries(map).flatMap(([header, target]) =>
    target === null ? [] : [[header, target] as const],
  );
  const headers = table.headers.filter((header) => !Object.hasOwn(map, header));
  const given = told.map(([, { to }]) => to);
  const { mapping } = guessMapping(headers, options.kind, desk.ledger.trial.traits, given);
  return Object.fromEntries([...Object.entries(mapping), ...told]);
}

/** What files and the command line say of columns; what is said later goes first. */
function mapOf(host: Host, { map, color }: ImportFileOptions): ColumnMap {
  const maps = map.map((name): ColumnMap => {
    const path = resolve(host.cwd, name);
    const said = host.files.kind(path) === 'none' ? columnSaid(name) : undefined;
    if (said !== undefined) return said;
    const read = readColumnMap(readText(host, path, name));
    if ('map' in read) return read.map;
    tellDiagnostics(host, !color, read.problems);
    throw new Finished(EXIT.ledgerErrors);
  });
  return Object.assign({}, ...maps);
}

/** The rows as lines with their entries, so that whatever is wrong is shown at its row. */
function linesOf(file: SourceFile, table: TextTable, imported: Imported<Entered>): LinesRead {
  const rejected = new Map(imported.rejects.map((one) => [one.line, one.reason]));
  const lineOf = (row: TextRow) => ({
    at: rowSpan(file, row),
    date: undefined,
    text: lineText(file, row.line),
  });
  const sound = table.rows.filter(({ line }) => !rejected.has(line)).map(lineOf);
  const faulty = table.rows.filter(({ line }) => rejected.has(line)).map(lineOf);
  const problems = imported.rejects.map(({ line, reason }) =>
    diagnose(rowNotUnderstood, rowSpan(file, { line, cells: [] }), { reason }),
  );
  return {
    entries: imported.entries.map((entry, index) => {
      const line = sound[index];
      return { entry, lines: line === undefined ? [] : [line] };
    }),
    faulty,
    problems: located(problems),
  };
}

/** That a new cultivar has no tree yet, or a new tree no entry, is no news to who lists them. */
function isNews({ rule }: LocatedDiagnostic): boolean {
  return rule !== 'cultivar-without-trees' && rule !== 'tree-silent';
}

/** What is wrong with several rows in one way is said at the first of them. */
function toldOnce(said: readonly LocatedDiagnostic[]): readonly LocatedDiagnostic[] {
  const alike = new Map<string, LocatedDiagnostic[]>();
  for (const one of said) {
    const name = one.rule === rowNotUnderstood.rule ? one.message : alike.size.toString();
    alike.set(name, [...(alike.get(name) ?? []), one]);
  }
  return [...alike.values()].flatMap(([first, ...others]) => {
    if (first === undefined) return [];
    if (others.length === 0) return [first];
    const lines = others.map(({ at }) => positionAt(at.file, at.start).line);
    const shown = lines.slice(0, MOST_LINES).join(', ');
    const more = lines.length > MOST_LINES ? ', ...' : '';
    const rows = others.length === 1 ? '1 more row: line' : `${others.length} more rows: lines`;
    return [{ ...first, message: `${first.message}; the same in ${rows} ${shown}${more}` }];
  });
}

const MOST_LINES = 8;

function rowSpan(file: SourceFile, { line }: TextRow): Span {
  const start = offsetOfLine(file, line);
  return { file, start, end: start + lineText(file, line).length };
}

async function tellTable(
  { host, ledger }: Desk,
  { kind, color }: ImportFileOptions,
  imported: Imported<Entered>,
  { plan }: SortedEntries,
): Promise<void> {
  const entries = plan.files.flatMap(({ added }) => added.map(({ entry }) => entry));
  const report = importReport(ledger, kind, imported, entries);
  const look = lookOf(host, host.stdout, !color);
  host.stdout.write(await renderReport(report, 'text', look, { notes: 'all' }));
}

async function write(
  desk: Desk,
  { color, kind, rejects }: ImportFileOptions,
  sorted: SortedEntries,
  table: TextTable,
  imported: Imported<Entered>,
): Promise<void> {
  const { plan } = sorted;
  const { host } = desk;
  const { written, failure } = await writePlan(desk, plan);
  for (const { path } of plan.files) {
    const count = written.filter((one) => one.path === path).length;
    if (count > 0) host.stdout.write(`${path}: ${countedRows(count, kind)} written\n`);
  }
  if (imported.ignored.length > 0) {
    host.stdout.write(`${visible(`Left out: ${imported.ignored.join(', ')}.`)}\n`);
  }
  if (sorted.faulty.length > 0 && rejects === undefined) {
    handBack(host, 'These rows were not written:', rejectsCsv(table, sorted));
  }
  if (failure !== undefined) throw new Finished(tellFailure(host, !color, failure));
}

/** Throws a `UsageError` where the rejects would take the place of a file of the ledger. */
function refuseOwnFile({ host, folder, files }: Desk, rejects: string): void {
  if (rejects === '') throw new UsageError('--rejects needs the name of a file');
  const path = resolve(host.cwd, rejects);
  if (files.some(({ file }) => join(folder, file.path) === path)) {
    throw new UsageError(`--rejects ${rejects} is a file of the ledger itself; give another name`);
  }
}
