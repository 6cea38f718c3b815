import type { LocatedDiagnostic } from '../../diagnostics/diagnostic.ts';
import { decode, MAX_FILE_BYTES } from '../../reading/decode.ts';
import { located } from '../../reading/yaml-locate.ts';
import type { SourceFile } from '../../source/source-file.ts';
import { visible } from '../../source/visible.ts';
import { tidyStored, tidyText } from '../../writing/tidy-text.ts';
import { EXIT, type ExitCode } from '../exit.ts';
import type { Host } from '../host.ts';
import { tellDiagnostics, tellDiff } from './tell.ts';

export interface TidyOptions {
  readonly color: boolean;
  readonly check: boolean;
  readonly dryRun: boolean;
}

/** Tidies files, or tells which are not tidy. Gives the exit status where it is not 0. */
export async function tidyFiles(
  host: Host,
  folder: string,
  paths: readonly string[],
  options: TidyOptions,
): Promise<ExitCode | undefined> {
  const problems: LocatedDiagnostic[] = [];
  let untidy = 0;
  let status: ExitCode | undefined;
  for (const path of paths) {
    const before = await read(host, folder, path);
    if ('problems' in before) {
      problems.push(...before.problems);
      continue;
    }
    const tidied = tidyText(before.file);
    if (tidied.kind === 'refused') {
      problems.push(...tidied.diagnostics);
      continue;
    }
    if (!tidied.changed) continue;
    untidy++;
    if (options.check) host.stdout.write(`${visible(path)}\n`);
    else if (options.dryRun) {
      tellDiff(host, [{ path, before: before.file, after: tidied.file, added: [] }]);
    } else {
      const fault = await write(host, folder, path, problems);
      if (fault) status = EXIT.file;
    }
  }
  tellDiagnostics(host, !options.color, problems);
  if (untidy === 0 && problems.length === 0 && !options.dryRun) {
    host.stdout.write('All tidy.\n');
  }
  if (status !== undefined) return status;
  return problems.length > 0 || (options.check && untidy > 0) ? EXIT.ledgerErrors : undefined;
}

async function read(
  host: Host,
  folder: string,
  path: string,
): Promise<{ readonly file: SourceFile } | { readonly problems: readonly LocatedDiagnostic[] }> {
  const full = `${folder}/${path}`;
  const size = host.files.size(full);
  const bytes = size > MAX_FILE_BYTES ? undefined : host.files.read(full);
  const { file, diagnostics } = decode({ path, bytes, size });
  return diagnostics.length > 0 ? { problems: located(diagnostics) } : { file };
}

/** Says whether the disk did not play along. */
async function write(
  host: Host,
  folder: string,
  path: string,
  problems: LocatedDiagnostic[],
): Promise<boolean> {
  const done = await tidyStored(host.store(folder), path);
  switch (done.kind) {
    case 'refused':
      problems.push(...done.diagnostics);
      return false;
    case 'failed': {
      const { message, advice } = done.fault;
      const more = advice === '' ? '' : `; ${advice}`;
      host.stderr.write(`pomary: cannot write ${visible(path)}: ${message}${more}\n`);
      return true;
    }
    case 'tidied':
      host.stdout.write(`${visible(path)} is tidy now.\n`);
      return false;
  }
}
