import { join } from 'node:path';
import { ABSENT, type Store } from '../../writing/store.ts';
import type { Host } from '../host.ts';

/** Lines that a session typed and did not write. */
export interface FoundDraft {
  readonly name: string;
  readonly lines: readonly string[];
}

/** Keeps the lines of a session on the disk until they are written. */
export interface DraftKeeper {
  /** Name of the file in the ledger folder; undefined where none was begun. */
  name(): string | undefined;
  /** Throws a `StoreFault`. */
  keep(lines: readonly string[]): Promise<void>;
  /** Throws a `FileFault`. */
  remove(): void;
}

const NAME = /^\.pomary-draft(?:-\d+)?$/;
const HEAD =
  '# Typed with pomary enter and not written yet. pomary enter offers these lines again.\n';

/** Drafts that earlier sessions left. */
export async function findDrafts(
  host: Host,
  folder: string,
  store: Store,
): Promise<readonly FoundDraft[]> {
  const drafts: FoundDraft[] = [];
  for (const name of host.files
    .list(folder)
    .filter((one) => NAME.test(one))
    .sort()) {
    const stored = await store.read(name);
    const text = new TextDecoder().decode(stored?.bytes ?? new Uint8Array());
    const lines = text.split('\n').filter((line) => line.trim() !== '' && !line.startsWith('#'));
    drafts.push({ name, lines });
  }
  return drafts;
}

/**
 * A keeper that writes to the first name that is free, so that two sessions at once never write over
 * each other's lines.
 */
export function draftKeeper(host: Host, folder: string, store: Store): DraftKeeper {
  let name: string | undefined;
  let mark = ABSENT;
  return {
    name: () => name,
    keep: async (lines) => {
      const bytes = new TextEncoder().encode(draftText(lines));
      for (let number = 1; ; number++) {
        const path = name ?? (number === 1 ? '.pomary-draft' : `.pomary-draft-${number}`);
        const outcome = await store.writeIfUnchanged(path, bytes, mark);
        if (outcome === 'written') {
          name = path;
          mark = (await store.read(path))?.mark ?? ABSENT;
          return;
        }
        // Someone else has that name, or took ours: begin one of our own.
        name = undefined;
        mark = ABSENT;
      }
    },
    remove: () => {
      if (name !== undefined) host.files.remove(join(folder, name));
      name = undefined;
      mark = ABSENT;
    },
  };
}

export function draftText(lines: readonly string[]): string {
  return `${HEAD}${lines.map((line) => `${line}\n`).join('')}`;
}
