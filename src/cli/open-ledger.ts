import { join } from 'node:path';
import { checkLedger, errorRules, rules } from '../checks/index.ts';
import type { LocatedDiagnostic } from '../diagnostics/diagnostic.ts';
import { sortedDiagnostics } from '../diagnostics/order.ts';
import { fileIgnored } from '../diagnostics/words/reading.ts';
import type { Ledger } from '../model/ledger.ts';
import { readLedger } from '../reading/read-ledger.ts';
import { located } from '../reading/yaml-locate.ts';
import { visible } from '../source/visible.ts';
import { EXIT, Finished } from './exit.ts';
import { findLedger, readFiles } from './find-ledger.ts';
import type { Host } from './host.ts';
import { lookOf } from './look.ts';

/** Options that stand before the command. */
export interface GlobalOptions {
  readonly ledger?: string;
  readonly color: boolean;
}

export interface CheckedLedger {
  readonly folder: string;
  /** Absent where `ledger.yaml` cannot be read. */
  readonly ledger: Ledger | undefined;
  readonly diagnostics: readonly LocatedDiagnostic[];
}

/** Reads the ledger and runs the checks on what could be read. */
export function readAndCheck(host: Host, options: GlobalOptions, toRun = rules): CheckedLedger {
  const folder = findLedger(host, options.ledger);
  const { ledger, diagnostics } = readLedger(readFiles(host, folder));
  const around = { isFile: (path: string) => host.files.kind(join(folder, path)) === 'file' };
  const found = ledger === undefined ? [] : located(checkLedger(ledger, toRun, around));
  return { folder, ledger, diagnostics: sortedDiagnostics([...diagnostics, ...found]) };
}

/** Errors shown by a report, which is not the place to go through all of them. */
export const MOST_SHOWN = 20;

/**
 * The ledger for a report. With any error in it nothing is computed: the errors are shown on
 * standard error and the command ends.
 */
export async function openForReport(host: Host, options: GlobalOptions): Promise<Ledger> {
  // Only an error stops a report, so the checks that find less need not run.
  const { ledger, diagnostics } = readAndCheck(host, options, errorRules);
  const errors = diagnostics.filter((one) => one.severity === 'error');
  if (ledger !== undefined && errors.length === 0) {
    sayWhatIsNotRead(host, diagnostics);
    return ledger;
  }
  const { renderDiagnostics } = await import('../render/diagnostics-text.ts');
  const look = lookOf(host, host.stderr, !options.color);
  host.stderr.write(renderDiagnostics(errors, look, { atMost: MOST_SHOWN }));
  host.stderr.write(
    'Nothing is computed from a ledger with errors; pomary check shows all of them.\n',
  );
  throw new Finished(EXIT.ledgerErrors);
}

/** A season that a slip in its file's name keeps out of every figure must not go unsaid. */
function sayWhatIsNotRead(host: Host, diagnostics: readonly LocatedDiagnostic[]): void {
  const ignored = diagnostics.filter(({ rule }) => rule === fileIgnored.rule);
  for (const { message, advice, at } of ignored.slice(0, MOST_SHOWN)) {
    host.stderr.write(`pomary: ${visible(`${at.file.path}: ${message}; ${advice}`)}\n`);
  }
  const more = ignored.length - MOST_SHOWN;
  if (more > 0) {
    host.stderr.write(`pomary: and ${more} more; pomary check counts all of them\n`);
  }
}
