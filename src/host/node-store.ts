import * as nodeDisk from 'node:fs/promises';
import { basename, dirname, join, relative } from 'node:path';
import { type LockTimes, USUAL_TIMES, withFileLock } from '../writing/lock.ts';
import { type Glimpse, type QuietTimes, USUAL_QUIET, untilQuiet } from '../writing/quiet.ts';
import { ABSENT, type HeldFile, type Store, type Stored, StoreFault } from '../writing/store.ts';
import { codeOf, type Disk, guarded, unless } from './node-disk.ts';
import { nodeGround } from './node-ground.ts';
import { isAsItWas, isKnown, type Kept, KeptTexts, markOf } from './node-kept.ts';
import { Replacement, sweep, temporaryPath } from './node-replacement.ts';

export interface StoreSettings {
  readonly locks?: LockTimes;
  readonly quiet?: QuietTimes;
  readonly disk?: Disk;
  /** Is told, in words for a person, what does not keep a file from being written. */
  readonly warn?: (path: string, warning: string) => void;
  /** Is told of every file that was written. */
  readonly wrote?: () => void;
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
  readonly #replacement: Replacement;
  readonly #texts: KeptTexts;
  #kept: readonly Kept[] = [];

  constructor(folder: string, path: string, around: Surroundings) {
    this.#folder = folder;
    this.#path = path;
    this.#full = join(folder, path);
    this.#around = around;
    this.#disk = around.disk;
    this.#replacement = new Replacement(path, around.disk, (warning) => this.#warn(warning));
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
      toTell = await this.#replacement.write(temporary, bytes, target);
      // As late as can be: what an editor saves between this look and the rename goes to the file
      // that is kept.
      const now = await readStored(this.#disk, target);
      if ((now?.mark ?? ABSENT) !== mark) return 'changed';
      kept = await texts?.keep(now === undefined ? undefined : target, mark, markOf(bytes));
      isNew = now === undefined;
      if (isNew) done = await this.#replacement.putNew(temporary, target);
      else {
        await this.#replacement.rename(temporary, target);
        done = true;
      }
      if (!done) return 'changed';
    } finally {
      await this.#disk.rm(temporary, { force: true }).catch(() => {});
      if (!done && kept !== undefined) await this.#drop(kept);
    }
    await this.#replacement.flushFolder(dirname(target));
    // Written it is, whatever goes wrong from here on.
    const overtaken = kept && (await this.#wasOvertaken(kept, target, bytes).catch(() => false));
    if (overtaken === true) return 'changed';
    for (const one of toTell) this.#warn(one);
    // Of a file that has gone, what was kept may be all that is left.
    if (texts !== undefined && !isNew) {
      for (const old of this.#kept) if (old.path !== kept?.path) await this.#drop(old);
      this.#kept = kept === undefined ? [] : [kept];
    }
    this.#around.wrote?.();
    return 'written';
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
    await this.#replacement.rename(kept.path, target);
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
    await this.#replacement.rename(kept.path, path);
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
