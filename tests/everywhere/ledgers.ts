import { cpSync, existsSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { layFiles } from '../support/lay-files.ts';
import { SMALL_EXAMPLE } from '../support/small-example.ts';
import type { Column } from './column.ts';

/** A copy of the small ledger under a name of its own, whose bytes may be changed on the way. */
export function smallLedger(
  column: Column,
  name: string,
  changed: (text: string, path: string) => string = (text) => text,
): string {
  const folder = join(column.folder, name);
  const files = Object.entries(SMALL_EXAMPLE).map(([path, text]) => [path, changed(text, path)]);
  layFiles(folder, Object.fromEntries(files));
  return folder;
}

/** The small ledger as it is, which nothing may write to. */
export function plainLedger(column: Column): string {
  const folder = join(column.folder, 'plain');
  return existsSync(folder) ? folder : smallLedger(column, 'plain');
}

/** A copy of the example ledger, which nothing may write to. */
export function exampleLedger(column: Column): string {
  const folder = join(column.folder, 'example');
  // The script that runs this stands elsewhere, but is started in the project.
  if (!existsSync(folder)) cpSync('ledger-example', folder, { recursive: true });
  return folder;
}

/** Each file of a folder by its path, as the bytes one by one. */
export function filesIn(folder: string): Readonly<Record<string, string>> {
  const paths = readdirSync(folder, { recursive: true, encoding: 'utf8' }).sort();
  const files = paths.filter((path) => statSync(join(folder, path)).isFile());
  return Object.fromEntries(
    files.map((path) => [path, readFileSync(join(folder, path), 'latin1')]),
  );
}

export function seasonText(ledger: string, season = 2026): string {
  return readFileSync(join(ledger, `seasons/${season}.yaml`), 'utf8');
}
