import { constants } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { StoreFault } from '../writing/store.ts';
import { randomHex } from './node-crypto.ts';
import { codeOf, type Disk, NOT_KNOWN, unless } from './node-disk.ts';

/** Puts a file in the place of another so that at any moment the one or the other is there whole. */
export class Replacement {
  readonly #path: string;
  readonly #disk: Disk;
  readonly #warn: (warning: string) => void;

  /** @param path what people call the file */
  constructor(path: string, disk: Disk, warn: (warning: string) => void) {
    this.#path = path;
    this.#disk = disk;
    this.#warn = warn;
  }

  /**
   * Writes a new file with the owner and the permissions of the target, and flushes it. Gives what there is to tell of
   * it, once it has taken the place of the target.
   */
  async write(path: string, bytes: Uint8Array, target: string): Promise<readonly string[]> {
    const toTell: string[] = [];
    const old = await unless(['ENOENT'], () => this.#disk.stat(target));
    if (old !== undefined) await this.#refuseReadOnly(target, old.mode);
    const file = await this.#disk.open(path, 'wx', old === undefined ? 0o666 : old.mode & 0o777);
    try {
      await file.writeFile(bytes);
      if (old !== undefined) {
        const made = await file.stat();
        if (made.uid !== old.uid || made.gid !== old.gid) {
          await unless([...NOT_KNOWN, 'EACCES', 'EINVAL'], () => file.chown(old.uid, old.gid));
        }
        // The mask of the process may have taken permissions away that the old file has.
        if ((made.mode & 0o777) !== (old.mode & 0o777)) {
          await unless([...NOT_KNOWN, 'EACCES', 'EINVAL'], () => file.chmod(old.mode & 0o777));
        }
        toTell.push(...ownerChange(old, await file.stat()));
        if (old.nlink > 1) {
          toTell.push('it had another name as well (a hard link), which keeps the text as it was');
        }
      }
      await file.sync();
    } finally {
      await file.close();
    }
    return toTell;
  }

  /** Whoever locks a file means it, though a rename could take its place. */
  async #refuseReadOnly(target: string, mode: number): Promise<void> {
    const advice = 'if it is to be changed, allow writing to it first';
    if ((mode & 0o200) === 0) {
      throw new StoreFault(this.#path, 'EACCES', 'it is marked read-only', advice);
    }
    try {
      await this.#disk.access(target, constants.W_OK);
    } catch (thrown) {
      if (!['EACCES', 'EPERM'].includes(codeOf(thrown))) throw thrown;
      throw new StoreFault(this.#path, 'EACCES', 'this account may not write to it', advice);
    }
  }

  /** Programs that look into every new file hold on to it for a moment. */
  async rename(from: string, to: string): Promise<void> {
    for (let attempt = 1; ; attempt++) {
      try {
        await this.#disk.rename(from, to);
        return;
      } catch (thrown) {
        if (attempt === 5 || !['EBUSY', 'EPERM', 'EACCES'].includes(codeOf(thrown))) throw thrown;
      }
      await new Promise((resolve) => {
        setTimeout(resolve, 50 * attempt);
      });
    }
  }

  /** Gives a file its name if nothing has that name; a link, unlike a rename, never replaces. */
  async putNew(temporary: string, target: string): Promise<boolean> {
    try {
      await this.#disk.link(temporary, target);
    } catch (thrown) {
      if (codeOf(thrown) === 'EEXIST') return false;
      if (!NOT_KNOWN.includes(codeOf(thrown))) throw thrown;
      // A disk without hard links.
      await this.rename(temporary, target);
    }
    return true;
  }

  /** The rename itself is safe on the disk only when the folder is flushed; not every system can. */
  async flushFolder(path: string): Promise<void> {
    const cannot = ['EISDIR', 'EPERM', 'EACCES', 'EINVAL', 'ENOTSUP'];
    try {
      await unless(cannot, async () => {
        const folder = await this.#disk.open(path, 'r');
        try {
          await folder.sync();
        } finally {
          await folder.close();
        }
      });
    } catch (thrown) {
      const advice = 'look whether the disk is sound, and keep a copy elsewhere';
      this.#warn(`it is written, but the disk did not confirm it (${codeOf(thrown)}); ${advice}`);
    }
  }
}

interface Owned {
  readonly uid: number;
  readonly gid: number;
}

function ownerChange(old: Owned, made: Owned): readonly string[] {
  if (made.uid !== old.uid) {
    return [`it belonged to another account (${old.uid}), and belongs to yours now`];
  }
  if (made.gid === old.gid) return [];
  return [`it belonged to group ${old.gid}, and belongs to group ${made.gid} now`];
}

/** Beside the target, since a rename goes no further than a disk. */
export function temporaryPath(target: string): string {
  return join(dirname(target), `${temporaryName(target)}${randomHex(6)}.tmp`);
}

function temporaryName(target: string): string {
  return `.${basename(target)}.write-`;
}

/** Takes away what a writer that was cut short left behind. Whoever holds the lock is the only writer. */
export async function sweep(disk: Disk, target: string): Promise<void> {
  const begin = temporaryName(target);
  for (const name of await disk.readdir(dirname(target))) {
    if (name.startsWith(begin) && name.endsWith('.tmp')) {
      await disk.rm(join(dirname(target), name), { force: true });
    }
  }
}
