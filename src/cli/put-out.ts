import { extname, join, resolve } from 'node:path';
import { UsageError } from './exit.ts';
import { findLedger, pathsOf } from './find-ledger.ts';
import type { Host } from './host.ts';

/** Where what a command made goes to. */
export interface Destination {
  /** Folder of the ledger, if one is named. */
  readonly ledger?: string;
  /** Name of a file; the screen if left out. */
  readonly output?: string | undefined;
}

/**
 * Prints what was made, or writes it to a file. Throws a `UsageError` where it would take the place
 * of a file of the ledger, and for bytes without a file.
 */
export function putOut(
  host: Host,
  { ledger, output }: Destination,
  made: string | Uint8Array,
): void {
  if (output === undefined) {
    if (typeof made !== 'string')
      throw new UsageError('a PNG goes into a file: name it by --output');
    host.stdout.write(made);
    return;
  }
  if (output === '') throw new UsageError('--output needs the name of a file');
  const folder = findLedger(host, ledger);
  const path = resolve(host.cwd, output);
  if (pathsOf(host, folder).some((file) => join(folder, file) === path)) {
    throw new UsageError(`--output ${output} is a file of the ledger itself; give another name`);
  }
  host.files.write(path, made);
}

/** The endings of files, by the form that they ask for. */
const ENDINGS: Readonly<Record<string, RegExp>> = {
  text: /\.te?xt$/i,
  markdown: /\.(md|markdown)$/i,
  html: /\.html?$/i,
  json: /\.json$/i,
  csv: /\.csv$/i,
  svg: /\.svg$/i,
  png: /\.png$/i,
};

/**
 * The form that the name of a file asks for, among those that there are; the first of them where it
 * asks for none. Throws a `UsageError` where it asks for another, so that no table lies in a file
 * that says it is a picture.
 */
export function formatOfFile<Format extends string>(
  file: string | undefined,
  formats: readonly [Format, ...Format[]],
): Format {
  const asked = formats.find((format) => ENDINGS[format]?.test(file ?? ''));
  const ending = extname(file ?? '');
  // A file of the ledger is refused for being one.
  if (asked !== undefined || /^(\.ya?ml)?$/i.test(ending)) return asked ?? formats[0];
  throw new UsageError(
    `${file}: a file ending in ${ending} is not among the forms here: ${formats.join(', ')}; to have one of them all the same, name it with --format`,
  );
}
