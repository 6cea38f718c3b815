import type { Ledger } from '../../src/model/ledger.ts';
import { readLedger } from '../../src/reading/read-ledger.ts';

/** The ledger that some files make; throws with every complaint where one is an error. */
export function ledgerFrom(files: Readonly<Record<string, string>>): Ledger {
  const raw = Object.entries(files).map(([path, text]) => {
    const bytes = new TextEncoder().encode(text);
    return { path, bytes, size: bytes.length };
  });
  const { ledger, diagnostics } = readLedger(raw);
  const errors = diagnostics.filter(({ severity }) => severity === 'error');
  if (ledger === undefined || errors.length > 0) {
    throw new Error(errors.map(({ rule, message }) => `${rule}: ${message}`).join('\n'));
  }
  return ledger;
}
