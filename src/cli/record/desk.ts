import type { IsoDate } from '../../model/dates.ts';
import type { Ledger } from '../../model/ledger.ts';
import { type Decoded, decode } from '../../reading/decode.ts';
import { type LedgerRead, LedgerReader } from '../../reading/read-ledger.ts';
import { readYaml, type YamlRead } from '../../reading/yaml-read.ts';
import type { SourceFile } from '../../source/source-file.ts';
import { readDate } from '../../writing/shorthand/typed-date.ts';
import type { Store } from '../../writing/store.ts';
import { EXIT, Finished, UsageError } from '../exit.ts';
import { findLedger, pathsOf, readFiles } from '../find-ledger.ts';
import type { Host } from '../host.ts';
import { lookOf } from '../look.ts';
import type { GlobalOptions } from '../open-ledger.ts';

/** A ledger laid out to be written in. */
export interface Desk {
  readonly host: Host;
  readonly today: IsoDate;
  readonly folder: string;
  readonly store: Store;
  /** The files as they were when the desk was laid out. */
  readonly files: readonly Decoded[];
  /** What the text of a file says; read once. */
  readYaml(file: SourceFile): YamlRead;
  /** Reads the ledger again with other files in it. */
  readonly reader: LedgerReader;
  readonly ledger: Ledger;
  /** What reading the files gave; its seasons are read when they are asked for. */
  readonly read: LedgerRead;
}

/**
 * Reads and checks the ledger. Errors that it already has do not keep anyone from adding to it;
 * only where `ledger.yaml` itself cannot be read are they shown and the command ends.
 */
export async function openDesk(host: Host, options: GlobalOptions): Promise<Desk> {
  const folder = findLedger(host, options.ledger);
  const store = host.store(folder);
  for (const path of pathsOf(host, folder)) await store.settle(path);
  const files = readFiles(host, folder).map(decode);
  const readYaml = readYamlOnce();
  const reader = new LedgerReader(readYaml);
  const read = reader.readLater(files);
  const { ledger } = read;
  if (ledger !== undefined) {
    return {
      host,
      today: host.today(),
      folder,
      store,
      files,
      readYaml,
      reader,
      ledger,
      read,
    };
  }
  const { renderDiagnostics } = await import('../../render/diagnostics-text.ts');
  const errors = read.diagnostics.filter(({ severity }) => severity === 'error');
  host.stderr.write(renderDiagnostics(errors, lookOf(host, host.stderr, !options.color)));
  host.stderr.write('Nothing can be entered before ledger.yaml is mended.\n');
  throw new Finished(EXIT.ledgerErrors);
}

function readYamlOnce(): (file: SourceFile) => YamlRead {
  const known = new WeakMap<SourceFile, YamlRead>();
  return (file) => {
    const read = known.get(file) ?? readYaml(file);
    known.set(file, read);
    return read;
  };
}

/** The date that `--on` gives. Throws a `UsageError` for anything that is not one date. */
export function firstDate(text: string, { today, ledger }: Desk): IsoDate {
  const words = text.trim().split(/\s+/);
  const found = readDate(words, today, ledger.trial.dates);
  if (found.kind === 'unclear') {
    throw new UsageError(`--on ${text} may be ${found.readings.join(' or ')}; write one of them`);
  }
  if (found.kind === 'date' && found.used === words.length) return found.date;
  throw new UsageError(`--on ${text} is no date; write 2026-07-24, "24 Jul" or yesterday`);
}
