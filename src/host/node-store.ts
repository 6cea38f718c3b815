import { randomBytes } from 'node:crypto';
import * as nodeDisk from 'node:fs/promises';
import { basename, dirname, join, relative } from 'node:path';
import { type LockTimes, USUAL_TIMES, withFileLock } from '../writing/lock.ts';
import { type Glimpse, type QuietTimes, USUAL_QUIET, untilQuiet } from '../writing/quiet.ts';
import { ABSENT, type HeldFile, type Store, type Stored, StoreFault } from '../writing/store.ts';
import { codeOf, type Disk, NOT_KNOWN, unless } from './node-disk.ts';
import { nodeGround } from './node-ground.ts';
import { isAsItWas, isKnown, type Kept, KeptTexts, markOf } from './node-kept.ts';

export interface StoreSettings {
  readonly locks?: LockTimes;
  readonly quiet?: QuietTimes;
  readonly disk?: Disk;
  /** Is told, in words for a person, what does not keep a file from being written. */
  readonly warn?: (path: string, warning: string) => void;
}

/**
 * The disk, for writing entries. A write is a temporary file in the same folder, flushed, then
 * renamed over the old one, so that at any moment the old or the new file is there whole.
 *
 * @param folder the ledger folder; paths are relative to it
 */
export function nodeStore(folder: string, settings: StoreSettings = {}): Store {
  const { locks = USUAL_TIMES, disk = nodeDisk, warn = () => {} } = settings;
  const file = (path: string) => new FileOnDisk(folder, path, { ...settings, disk, warn });
  return {
    read: (path) => guarded(path, () => readStored(disk, join(folder, path))),
    writeIfUnchanged: (path, bytes, mark) => guarded(path, () => file(path).replace(bytes, mark)),
    settle: (path) =>
      file(path)
        .settle()
        .catch(() => {}),
    whileLocked: (path, action) =>
      guarded(path, async () => {
        const target = await targetOf(disk, join(folder, path));
        await makeFolder(disk, dirname(target));
        const ground = nodeGround(disk, (lock, thrown) => {
          warn(path, `${basename(lock)} beside it cannot be removed (${codeOf(thrown)})`);
        });
        return withFileLock(ground, lockPath(target), locks, async () => {
          await sweep(disk, target);
          return action(await file(path).hold());
        });
      }),
  };
}

interface Surroundings extends StoreSettings {
  readonly disk: Disk;
  readonly warn: (path: string, warning: string) => void;
}

/** One file of a ledger, as pomary reads and writes it beside other programs. */
class FileOnDisk implements HeldFile {
  readonly #folder: string;
  readonly #path: string;
  readonly #full: string;
  readonly #around: Surroundings;
  readonly #disk: Disk;
  readonly #texts: KeptTexts;
  #kept: readonly Kept[] = [];

  constructor(folder: string, path: string, around: Surroundings) {
    this.#folder = folder;
    this.#path = path;
    this.#full = join(folder, path);
    this.#around = around;
    this.#disk = around.disk;
    this.#texts = new KeptTexts(around.disk, folder, path);
  }

  /** Looks what became of the text that the last write replaced. */
  async hold(): Promise<this> {
    this.#kept = await this.#texts.list();
    for (const kept of this.#kept) await this.#lookBack(kept);
    return this;
  }

  async settle(): Promise<void> {
    await this.#untilQuiet(this.#full, () => this.#texts.list());
  }

  read(): Promise<Stored | undefined> {
    return guarded(this.#path, async () => {
      const stored = await this.#readQuiet(this.#full);
      if (stored === 'restless') {
        const advice = 'close what keeps saving it, and try again';
        throw new StoreFault(this.#path, 'CHANGED', 'another program keeps saving it', advice);
      }
      if (stored !== undefined) await this.#refuseCut(stored);
      return stored;
    });
  }

  writeIfUnchanged(bytes: Uint8Array, mark: string): Promise<'written' | 'changed'> {
    return guarded(this.#path, () => this.replace(bytes, mark, this.#texts));
  }

  /** Keeps what is replaced where `texts` are given. */
  async replace(
    bytes: Uint8Array,
    mark: string,
    texts?: KeptTexts,
  ): Promise<'written' | 'changed'> {
    const target = await targetOf(this.#disk, this.#full);
    const temporary = temporaryPath(target);
    let kept: Kept | undefined;
    let done = false;
    let toTell: readonly string[];
    let isNew = false;
    try {
      toTell = await this.#writeFlushed(temporary, bytes, target);
      // As late as can be: what an editor saves between this look and the rename goes to the file
      // that is kept.
      const now = await readStored(this.#disk, target);
      if ((now?.mark ?? ABSENT) !== mark) return 'changed';
      kept = await texts?.keep(now === undefined ? undefined : target, mark, markOf(bytes));
      isNew = now === undefined;
      if (isNew) done = await this.#putNew(temporary, target);
      else {
        await this.#rename(temporary, target);
        done = true;
      }
      if (!done) return 'changed';
    } finally {
      await this.#disk.rm(temporary, { force: true }).catch(() => {});
      if (!done && kept !== undefined) await this.#drop(kept);
    }
    await this.#flushFolder(dirname(target));
    // Written it is, whatever goes wrong from here on.
    const overtaken = kept && (await this.#wasOvertaken(kept, target, bytes).catch(() => false));
    if (overtaken === true) return 'changed';
    for (const one of toTell) this.#warn(one);
    // Of a file that has gone, what was kept may be all that is left.
    if (texts !== undefined && !isNew) {
      for (const old of this.#kept) if (old.path !== kept?.path) await this.#drop(old);
      this.#kept = kept === undefined ? [] : [kept];
    }
    return 'written';
  }

  /** Gives what there is to tell of it, once it has taken the place of the target. */
  async #writeFlushed(path: string, bytes: Uint8Array, target: string): Promise<readonly string[]> {
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
      await this.#disk.access(target, nodeDisk.constants.W_OK);
    } catch (thrown) {
      if (!['EACCES', 'EPERM'].includes(codeOf(thrown))) throw thrown;
      throw new StoreFault(this.#path, 'EACCES', 'this account may not write to it', advice);
    }
  }

  /** Programs that look into every new file hold on to it for a moment. */
  async #rename(from: string, to: string): Promise<void> {
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
  async #putNew(temporary: string, target: string): Promise<boolean> {
    try {
      await this.#disk.link(temporary, target);
    } catch (thrown) {
      if (codeOf(thrown) === 'EEXIST') return false;
      if (!NOT_KNOWN.includes(codeOf(thrown))) throw thrown;
      // A disk without hard links.
      await this.#rename(temporary, target);
    }
    return true;
  }

  /** The rename itself is safe on the disk only when the folder is flushed; not every system can. */
  async #flushFolder(path: string): Promise<void> {
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

  /**
   * Whether another program saved the file in the moment before it was replaced. What it saved is
   * then put back in its place, for the entries to be put into that.
   */
  async #wasOvertaken(kept: Kept, target: string, bytes: Uint8Array): Promise<boolean> {
    const other = await this.#changedSince(kept);
    if (other === undefined || holdsLines(bytes, other)) return false;
    const now = await readStored(this.#disk, target);
    // Someone is at work on what we wrote; the next command tells of the other text.
    if (now?.mark !== markOf(bytes)) return false;
    await this.#rename(kept.path, target);
    return true;
  }

  /** The kept text, where a program has written to it since it was replaced and has finished. */
  async #changedSince(kept: Kept): Promise<Uint8Array | undefined> {
    const first = await readStored(this.#disk, kept.path);
    if (first === undefined || isAsItWas(kept, first.mark)) return undefined;
    const then = await this.#readQuiet(kept.path);
    if (then === undefined || then === 'restless') return undefined;
    return isAsItWas(kept, then.mark) ? undefined : then.bytes;
  }

  /** What a program wrote to the replaced file, of which nobody would see anything, is brought to light. */
  async #lookBack(kept: Kept): Promise<void> {
    // A write that was cut short before it replaced anything.
    if (await this.#isSame(kept.path, this.#full)) return this.#drop(kept);
    const other = await this.#changedSince(kept);
    if (other === undefined) return;
    const now = await readStored(this.#disk, this.#full);
    if (now !== undefined && holdsLines(now.bytes, other)) return;
    const path = await this.#freeName(`${this.#full}.also-saved`);
    await this.#rename(kept.path, path);
    const name = relative(this.#folder, path).replaceAll('\\', '/');
    this.#warn(
      `another program saved it just when pomary wrote to it; what that program saved is in ${name}: put what it has more into ${this.#path}, then remove it`,
    );
  }

  async #isSame(one: string, other: string): Promise<boolean> {
    const [a, b] = await Promise.all(
      [one, other].map((path) => unless(['ENOENT'], () => this.#disk.stat(path, { bigint: true }))),
    );
    return a !== undefined && b !== undefined && a.ino === b.ino && a.dev === b.dev;
  }

  async #freeName(path: string): Promise<string> {
    for (let number = 1; ; number++) {
      const name = number === 1 ? path : `${path}-${number}`;
      if ((await unless(['ENOENT'], () => this.#disk.lstat(name))) === undefined) return name;
    }
  }

  /** A file of which only the beginning is left was cut by an accident more likely than by its owner. */
  async #refuseCut({ bytes, mark }: Stored): Promise<void> {
    if (isKnown(this.#kept, mark)) return;
    for (const { path } of this.#kept) {
      const old = (await readStored(this.#disk, path))?.bytes ?? new Uint8Array();
      const isCut =
        old.length >= 2 * bytes.length &&
        old.length > 0 &&
        Buffer.compare(old.subarray(0, bytes.length), bytes) === 0;
      if (!isCut) continue;
      const name = relative(this.#folder, path).replaceAll('\\', '/');
      throw new StoreFault(
        this.#path,
        'CUT',
        `only its first ${bytes.length} of ${old.length} bytes are left`,
        `copy ${name} over it to have them back; if they went on purpose, remove ${name}`,
      );
    }
  }

  async #readQuiet(path: string): Promise<Stored | undefined | 'restless'> {
    for (;;) {
      const quiet = await this.#untilQuiet(path);
      if (quiet === 'restless') return quiet;
      const stored = await readStored(this.#disk, path);
      // A save that began after the look would be read in the middle.
      if ((await this.#glimpse(path))?.stamp === quiet?.stamp) return stored;
    }
  }

  #untilQuiet(path: string, list = async () => this.#kept) {
    const isWhole = async () => {
      const stored = await readStored(this.#disk, path);
      return stored !== undefined && isKnown(await list(), stored.mark);
    };
    return untilQuiet(() => this.#glimpse(path), isWhole, this.#around.quiet ?? USUAL_QUIET);
  }

  async #glimpse(path: string): Promise<Glimpse | undefined> {
    const seen = await unless(['ENOENT'], () => this.#disk.stat(path));
    if (seen !== undefined) {
      const { size, mtimeMs, ino } = seen;
      return { size, stamp: `${ino} ${mtimeMs} ${size}`, age: Date.now() - mtimeMs };
    }
    // A file that was there may be gone for as long as a save takes.
    return this.#kept.length === 0 ? undefined : { size: 1, stamp: 'gone', age: 0 };
  }

  async #drop({ path }: Kept): Promise<void> {
    // Left lying, it is taken away after the next write.
    await this.#disk.rm(path, { force: true }).catch(() => {});
  }

  #warn(warning: string): void {
    this.#around.warn(this.#path, warning);
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

/** Whether a text has all lines of another, in their order. */
function holdsLines(text: Uint8Array, other: Uint8Array): boolean {
  const lines = linesOf(text)[Symbol.iterator]();
  return linesOf(other).every((wanted) => {
    for (let next = lines.next(); next.done !== true; next = lines.next()) {
      if (next.value === wanted) return true;
    }
    return false;
  });
}

function linesOf(text: Uint8Array): readonly string[] {
  return Buffer.from(text)
    .toString('latin1')
    .split(/\r?\n/)
    .filter((line) => line !== '');
}

async function readStored(disk: Disk, path: string): Promise<Stored | undefined> {
  return unless(['ENOENT'], async () => {
    const kind = await disk.stat(path);
    if (!kind.isFile() && !kind.isDirectory()) {
      throw new StoreFault(path, 'ENOTFILE', 'it is no ordinary file', 'move it away');
    }
    const bytes = await disk.readFile(path);
    return { bytes, mark: markOf(bytes) };
  });
}

/** The folder of season files, but never the ledger folder itself: if that is gone, something is wrong. */
async function makeFolder(disk: Disk, path: string): Promise<void> {
  await unless(['EEXIST'], () => disk.mkdir(path));
}

/** The file that a link leads to, so that the link itself stays. */
async function targetOf(disk: Disk, path: string): Promise<string> {
  const real = await unless(['ENOENT'], () => disk.realpath(path));
  if (real !== undefined) return real;
  const link = await unless(['ENOENT'], () => disk.lstat(path));
  if (link?.isSymbolicLink() !== true) return path;
  const advice = 'put the file that it leads to back, or remove the link';
  throw new StoreFault(path, 'ENOENT', 'it is a link that leads nowhere', advice);
}

function lockPath(target: string): string {
  return join(dirname(target), `.${basename(target)}.lock`);
}

function temporaryPath(target: string): string {
  return join(dirname(target), `${temporaryName(target)}${randomBytes(6).toString('hex')}.tmp`);
}

function temporaryName(target: string): string {
  return `.${basename(target)}.write-`;
}

/** Takes away what a writer that was cut short left behind. Whoever holds the lock is the only writer. */
async function sweep(disk: Disk, target: string): Promise<void> {
  const begin = temporaryName(target);
  for (const name of await disk.readdir(dirname(target))) {
    if (name.startsWith(begin) && name.endsWith('.tmp')) {
      await disk.rm(join(dirname(target), name), { force: true });
    }
  }
}

const REASONS: Readonly<Record<string, readonly [reason: string, advice: string]>> = {
  ENOENT: ['its folder does not exist', 'look whether the ledger was moved'],
  EACCES: ['this account may not write there', 'change the permissions of the folder'],
  EPERM: ['this account may not change it', 'change the permissions of the file'],
  EROFS: ['the disk can only be read', 'use a disk that can be written'],
  EISDIR: ['it is a folder, not a file', 'move the folder away'],
  ENOTDIR: ['a part of its path is a file, not a folder', 'look whether the ledger was moved'],
  ELOOP: ['its links go round in a circle', 'replace the link by a file'],
  ENOSPC: ['the disk is full', 'make room, then try again'],
  EDQUOT: ['the disk quota is used up', 'make room, then try again'],
  EMFILE: ['too many files are open', 'close some programs, then try again'],
  EXDEV: [
    'it lies on another disk than its folder',
    'where that single file is mounted, mount its folder instead',
  ],
  EBUSY: [
    'something holds on to the file',
    'close what has it open, or where that single file is mounted, mount its folder instead',
  ],
  EIO: ['the disk reports a fault', 'save your files elsewhere'],
};

async function guarded<Result>(path: string, action: () => Promise<Result>): Promise<Result> {
  try {
    return await action();
  } catch (thrown) {
    if (thrown instanceof StoreFault) throw thrown;
    const code = codeOf(thrown);
    if (code === '') throw thrown;
    const [reason, advice] = REASONS[code] ?? [`the system says ${code}`, ''];
    throw new StoreFault(path, code, reason, advice);
  }
}
