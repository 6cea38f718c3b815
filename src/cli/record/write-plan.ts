import type { LocatedDiagnostic } from '../../diagnostics/diagnostic.ts';
import { decode } from '../../reading/decode.ts';
import { LedgerReader } from '../../reading/read-ledger.ts';
import { readYaml } from '../../reading/yaml-read.ts';
import type { SourceFile } from '../../source/source-file.ts';
import type { Entered } from '../../writing/listing.ts';
import { entriesAsText, type NotRecorded, recordEntries } from '../../writing/record-entries.ts';
import { readFiles } from '../find-ledger.ts';
import { FileFault } from '../host.ts';
import { findings, newFindings } from './check-files.ts';
import type { Desk } from './desk.ts';
import { type Plan, type PlannedFile, withFiles } from './plan.ts';

export interface Written {
  readonly written: readonly WrittenEntry[];
  /** Why the rest was not written, if there is a rest. */
  readonly failure: Failure | undefined;
}

export interface WrittenEntry {
  readonly entry: Entered;
  readonly path: string;
  readonly line: number;
}

export interface Failure extends Pick<NotRecorded, 'kind' | 'path' | 'diagnostics' | 'fault'> {
  /** What was not written, as lines of a season file. */
  readonly text: string;
  readonly entries: readonly Entered[];
}

/** Writes the planned entries, file by file; at the first file that fails it stops. */
export async function writePlan(desk: Desk, plan: Plan): Promise<Written> {
  const written: WrittenEntry[] = [];
  for (const [index, file] of plan.files.entries()) {
    const entries = file.added.map(({ entry }) => entry);
    const outcome = await recordFile(desk, file, entries);
    if (outcome.kind !== 'recorded') {
      const rest = plan.files.slice(index).flatMap(({ added }) => added.map(({ entry }) => entry));
      const failure = { ...outcome, text: entriesAsText(rest), entries: rest };
      return { written, failure };
    }
    written.push(...outcome.added.map((one) => ({ ...one, path: file.path })));
  }
  return { written, failure: undefined };
}

async function recordFile(desk: Desk, file: PlannedFile, entries: readonly Entered[]) {
  try {
    return await recordEntries(desk.store, file.path, entries, {
      crops: desk.ledger.trial.cropNames,
      planned: file,
      // The plan has been checked; only a file that is no longer what it was is checked again.
      check: (before, after) =>
        before.text === file.before.text ? [] : newErrors(desk, file.path, before, after),
    });
  } catch (thrown) {
    if (!(thrown instanceof FileFault)) throw thrown;
    const fault = { code: thrown.code, message: thrown.message, advice: '' };
    const text = entriesAsText(entries);
    return { kind: 'failed', path: thrown.path, diagnostics: [], fault, entries: text } as const;
  }
}

function newErrors(
  { host, folder }: Desk,
  path: string,
  before: SourceFile,
  after: SourceFile,
): readonly LocatedDiagnostic[] {
  const files = readFiles(host, folder).map(decode);
  const reader = new LedgerReader(readYaml);
  const old = withFiles(files, before.text === '' ? [] : [{ path, after: before }]);
  const now = withFiles(files, [{ path, after }]);
  return newFindings(reader.read(old), findings(reader.read(now))).filter(
    ({ severity }) => severity === 'error',
  );
}
