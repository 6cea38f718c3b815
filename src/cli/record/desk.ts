import type { LocatedDiagnostic } from '../../diagnostics/diagnostic.ts';
import type { Store } from '../../entry/store.ts';
import type { RawFile } from '../../ledger/raw-file.ts';
import { type IsoDate, parseIsoDate } from '../../model/dates.ts';
import type { Ledger } from '../../model/ledger.ts';
import { EXIT, Finished } from '../exit.ts';
import { findLedger, readFiles } from '../find-ledger.ts';
import type { Host } from '../host.ts';
import { lookOf } from '../look.ts';
import type { GlobalOptions } from '../open-ledger.ts';
import { checkFiles } from './check-files.ts';

/** A ledger laid out to be written in. */
export interface Desk {
  readonly host: Host;
  readonly today: IsoDate;
  readonly folder: string;
  readonly store: Store;
  /** The files as they were when the desk was laid out. */
  readonly raw: readonly RawFile[];
  readonly ledger: Ledger;
  /** What the checks find in them. */
  readonly diagnostics: readonly LocatedDiagnostic[];
}

/**
 * Reads and checks the ledger. Errors that it already has do not keep anyone from adding to it;
 * only where `ledger.yaml` itself cannot be read are they shown and the command ends.
 */
export async function openDesk(host: Host, options: GlobalOptions): Promise<Desk> {
  const folder = findLedger(host, options.ledger);
  const raw = readFiles(host, folder);
  const { ledger, diagnostics } = checkFiles(raw);
  if (ledger !== undefined) {
    return {
      host,
      today: todayOf(host),
      folder,
      store: host.store(folder),
      raw,
      ledger,
      diagnostics,
    };
  }
  const { renderDiagnostics } = await import('../../render/diagnostics-text.ts');
  const errors = diagnostics.filter(({ severity }) => severity === 'error');
  host.stderr.write(renderDiagnostics(errors, lookOf(host, host.stderr, !options.color)));
  host.stderr.write('Nothing can be entered before ledger.yaml is mended.\n');
  throw new Finished(EXIT.ledgerErrors);
}

function todayOf(host: Host): IsoDate {
  const today = parseIsoDate(host.today());
  if (today === undefined) throw new Error(`the clock says ${host.today()}`);
  return today;
}
