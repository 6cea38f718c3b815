import { vi } from 'vitest';
import { findLedger, readFiles } from '../../src/cli/find-ledger.ts';
import type { Host } from '../../src/cli/host.ts';
import type { Ledger } from '../../src/model/ledger.ts';

// Takes the place of src/cli/open-ledger.ts in tests that ask one sound ledger much:
//   vi.mock('../src/cli/open-ledger.ts', () => import('./support/ledger-once.ts'));
// Files with the same text give one ledger, and what is drawn of a ledger is kept with it, so that a question in another
// format or width is not drawn again. Not for tests of whether a run is like the one before.

const real = await vi.importActual<typeof import('../../src/cli/open-ledger.ts')>(
  '../../src/cli/open-ledger.ts',
);
export const { readAndCheck, MOST_SHOWN } = real;

const opened = new Map<string, Ledger>();

export const openForReport: typeof real.openForReport = async (host, options) => {
  const folder = findLedger(host, options.ledger);
  const texts = readFiles(host, folder).map(({ path, bytes }) => [path, String(bytes)]);
  const key = JSON.stringify(texts);
  const known = opened.get(key);
  if (known !== undefined) return known;
  let isQuiet = true;
  const write = (text: string) => {
    isQuiet = false;
    host.stderr.write(text);
  };
  const heard: Host = { ...host, stderr: { ...host.stderr, write } };
  const ledger = await real.openForReport(heard, options);
  // What is said on opening has to be said the next time too.
  if (isQuiet) opened.set(key, ledger);
  return ledger;
};
