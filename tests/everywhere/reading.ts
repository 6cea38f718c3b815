import type { Ran } from '../support/run-command.ts';
import type { Checks } from './checks.ts';
import type { Change, Column } from './column.ts';
import { plainLedger } from './ledgers.ts';

export const FORMATS = ['text', 'markdown', 'html', 'csv', 'json'] as const;

/** Every table, by the words that ask for it. The cultivars are in both ledgers. */
export const TABLES: readonly (readonly string[])[] = [
  ['yield'],
  ['weights'],
  ['crops'],
  ['soundness'],
  ['ripening'],
  ['scores'],
  ['preference'],
  ['rank'],
  ['compare', 'amber-lantern', 'slate-quay'],
  ['stability'],
  ['verdict'],
];

export const DAY = '2026-09-05';

/** Pages and files that are not one table. Days are named, since today is no part of a ledger. */
export const PAGES: readonly (readonly string[])[] = [
  ['changes'],
  ['changes', '--format', 'markdown'],
  ['changes', '--format', 'html'],
  ['changes', '--format', 'json'],
  ['card', 'Amber Lantern'],
  ['day', '2026-07-29'],
  ['day', '2026-07-29', '--format', 'html'],
  ['card', 'Amber Lantern', '--format', 'markdown'],
  ['card', 'Amber Lantern', '--format', 'html'],
  ['card', 'Amber Lantern', '--format', 'json'],
  ['post', '--date', DAY],
  ['post', '--date', DAY, '--format', 'html'],
  ['figure', 'ranks', '--crop', 'main'],
  ['figure', 'ripening'],
  ['figure', 'weights'],
  ['figure', 'cultivar', '--cultivar', 'Amber Lantern'],
  ['lineup', '--on', DAY],
  ['lineup', '--on', DAY, '--format', 'json'],
  ['sheet', '--on', DAY],
  ['sheet', '--on', DAY, '--format', 'html'],
  ['export', '--table', 'figures'],
  ['export', '--table', 'picks', '--format', 'jsonl'],
  ['check'],
  ['check', '--format', 'json'],
];

/** Every table as CSV, and a page of each kind: what a condition may not change. */
const READING: readonly (readonly string[])[] = [
  ...TABLES.map((words) => [...words, '--format', 'csv']),
  ['check'],
  ['yield'],
  ['soundness', '--format', 'markdown'],
  ['post', '--date', DAY, '--format', 'html'],
  ['lineup', '--on', DAY],
  ['sheet', '--on', DAY],
  ['export', '--table', 'figures'],
  ['completion', 'bash'],
];

/** A part of them, for conditions of which there are many. */
const SHORT: readonly (readonly string[])[] = [
  ['check'],
  ['yield'],
  ['ripening', '--format', 'csv'],
  ['rank', '--format', 'csv'],
];

/** The change leaves what is printed as it is, to the byte. */
export async function sameAsPlain(
  column: Column,
  checks: Checks,
  { cwd = plainLedger(column), ...change }: Change,
  length: 'all' | 'some' = 'all',
): Promise<void> {
  for (const argv of length === 'all' ? READING : SHORT) {
    const wanted = await column.plain(plainLedger(column), argv);
    sameRan(checks, argv.join(' '), await column.pomary(cwd, argv, change), wanted);
  }
}

export function sameRan(checks: Checks, what: string, found: Ran, wanted: Ran): void {
  checks.same(what, told(found), told(wanted));
}

function told({ status, out, err }: Ran): string {
  return `${out}\n${err}\nstatus ${status}`;
}
