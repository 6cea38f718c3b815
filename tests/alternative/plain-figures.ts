import { spawnSync } from 'node:child_process';
import { resolve } from 'node:path';
import { parse } from 'csv-parse/sync';
import type { Figure, Report } from './figure.ts';
import { type Command, printedBy } from './printed-by.ts';

const SCRIPT = resolve('tests/alternative/figures.R');

export function hasR(): boolean {
  return spawnSync('Rscript', ['--version'], { stdio: 'ignore' }).status === 0;
}

/** The command line that works reports out of exported tables. */
export function plainCommand(tables: string, reports: readonly Report[]): Command {
  return ['Rscript', SCRIPT, tables, ...reports.map(({ name }) => name)];
}

/**
 * Figures by base R from the tables of an export.
 *
 * @throws Error with what R says, if it fails
 */
export function plainFigures(tables: string, reports: readonly Report[]): readonly Figure[] {
  const rows: Record<keyof Figure, string>[] = parse(printedBy(plainCommand(tables, reports)), {
    columns: ['report', 'crop', 'of', 'trait', 'figure', 'value'],
  });
  return rows.map((row) => ({ ...row, value: Number(row.value) }));
}
