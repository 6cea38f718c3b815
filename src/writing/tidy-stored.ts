import { decode } from '../reading/decode.ts';
import { type Refusal, refusal } from './outcome.ts';
import type { NotRecorded } from './record-entries.ts';
import { encoded } from './record-entries.ts';
import { type Store, StoreFault } from './store.ts';
import { type Tidied, tidyText } from './tidy-text.ts';

export interface TidyFault {
  readonly kind: 'failed';
  readonly fault: NonNullable<NotRecorded['fault']>;
}

/** Puts a file on the disk in canonical form. A file that is changed meanwhile is left alone. */
export async function tidyStored(
  store: Store,
  path: string,
): Promise<Tidied | Refusal | TidyFault> {
  try {
    return await store.whileLocked(path, async (held) => {
      const stored = await held.read();
      if (stored === undefined) throw new StoreFault(path, 'ENOENT', 'it does not exist', '');
      const decoded = decode({ path, bytes: stored.bytes, size: stored.bytes.length });
      if (decoded.diagnostics.length > 0) return refusal(...decoded.diagnostics);
      const tidied = tidyText(decoded.file);
      if (tidied.kind === 'refused' || !tidied.changed) return tidied;
      const outcome = await held.writeIfUnchanged(encoded(tidied.file), stored.mark);
      if (outcome === 'written') return tidied;
      throw new StoreFault(
        path,
        'CHANGED',
        'it was changed while it was put in order',
        'try again',
      );
    });
  } catch (thrown) {
    if (!(thrown instanceof StoreFault)) throw thrown;
    const { code, message, advice } = thrown;
    return { kind: 'failed', fault: { code, message, advice } };
  }
}
