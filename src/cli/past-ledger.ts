import { checkLedger, errorRules } from '../checks/index.ts';
import { inOrder } from '../diagnostics/order.ts';
import type { Ledger } from '../model/ledger.ts';
import { readLedger } from '../reading/read-ledger.ts';
import { located } from '../reading/yaml-locate.ts';
import { EXIT, Finished, UsageError } from './exit.ts';
import { type Host, type Snapshot, UnknownRevision } from './host.ts';
import { lookOf } from './look.ts';
import { type GlobalOptions, MOST_SHOWN } from './open-ledger.ts';

export interface PastLedger {
  readonly ledger: Ledger;
  readonly snapshot: Snapshot;
}

/**
 * The ledger as it was at a revision. With any error in it the errors are shown on standard error
 * and the command ends, as with the ledger of today.
 */
export async function openPastLedger(
  host: Host,
  options: GlobalOptions,
  folder: string,
  revision: string,
): Promise<PastLedger> {
  const snapshot = await snapshotAt(host, folder, revision);
  const { ledger, diagnostics } = readLedger(snapshot.files);
  const found = ledger === undefined ? [] : located(checkLedger(ledger, errorRules));
  const errors = inOrder([...diagnostics, ...found]).filter(({ severity }) => severity === 'error');
  if (ledger !== undefined && errors.length === 0) return { ledger, snapshot };
  const { renderDiagnostics } = await import('../render/diagnostics-text.ts');
  const look = lookOf(host, host.stderr, !options.color);
  host.stderr.write(renderDiagnostics(errors, look, { atMost: MOST_SHOWN }));
  host.stderr.write(
    `The ledger of ${snapshot.commit.name} (${snapshot.commit.day}) has these errors, so nothing is computed from it; choose a revision without any.\n`,
  );
  throw new Finished(EXIT.ledgerErrors);
}

async function snapshotAt(host: Host, folder: string, revision: string): Promise<Snapshot> {
  try {
    return await host.revisions.read(folder, revision, isLedgerFile);
  } catch (thrown) {
    if (thrown instanceof UnknownRevision) throw new UsageError(thrown.message);
    throw thrown;
  }
}

/** The same files that `readFiles` takes from a folder. */
function isLedgerFile(path: string): boolean {
  return (
    /^(ledger|cultivars|trees)\.yaml$/.test(path) ||
    /^seasons\/[^./][^/]*\.ya?ml$/i.test(path) ||
    /^weather\/[^./][^/]*\.csv$/i.test(path)
  );
}
