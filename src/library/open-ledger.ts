import { UsageError } from '../cli/exit.ts';
import { readAndCheck } from '../cli/open-ledger.ts';
import { nodeHost } from '../host/node-host.ts';
import type { Ledger } from '../model/ledger.ts';
import { renderDiagnosticsJson } from '../render/diagnostics-json.ts';

/** Something that is wrong or odd in the files, as `pomary check --format json` tells it. */
export interface Problem {
  readonly severity: 'error' | 'warning' | 'hint';
  /** Stable name of the rule, such as `tree-unknown`. */
  readonly rule: string;
  readonly message: string;
  /** What to type instead; may be empty. */
  readonly advice: string;
  /** Inside the ledger's folder. */
  readonly file: string;
  /** Line and column count from 1, columns and length in UTF-16 units. */
  readonly line: number;
  readonly column: number;
  readonly length: number;
}

export interface OpenedLedger {
  /** Undefined as soon as there is any error: nothing may be computed from half a ledger. */
  readonly ledger: Ledger | undefined;
  /** Everything that was found, in the order of places. */
  readonly diagnostics: readonly Problem[];
}

/** Where ledgers lie, with the photos that no ledger holds itself. */
const folders = new WeakMap<Ledger, string>();

/** The folder of a ledger that was opened here, an absolute path. */
export function folderOf(ledger: Ledger): string {
  const folder = folders.get(ledger);
  if (folder === undefined) throw new UsageError('the ledger is not one that openLedger gave');
  return folder;
}

/**
 * Reads the ledger in a folder, runs every check, and changes nothing.
 *
 * @param folder holds `ledger.yaml`; relative to where the process stands
 */
export async function openLedger(folder: string): Promise<OpenedLedger> {
  const read = readAndCheck(nodeHost(), { ledger: folder, color: false });
  const { ledger, diagnostics } = read;
  if (ledger !== undefined) folders.set(ledger, read.folder);
  const told = JSON.parse(renderDiagnosticsJson(diagnostics)) as { diagnostics: Problem[] };
  const isSound = diagnostics.every(({ severity }) => severity !== 'error');
  return { ledger: isSound ? ledger : undefined, diagnostics: told.diagnostics };
}
