import { createHash, randomBytes } from 'node:crypto';
import {
  type FileHandle,
  link,
  lstat,
  mkdir,
  open,
  readdir,
  readFile,
  realpath,
  rename,
  rm,
  stat,
} from 'node:fs/promises';
import { hostname } from 'node:os';
import { basename, dirname, join } from 'node:path';
import { type LockGround, type LockTimes, USUAL_TIMES, withFileLock } from './entry/lock.ts';
import { ABSENT, type Store, type Stored, StoreFault } from './entry/store.ts';

/**
 * The disk, for writing entries. A write is a temporary file in the same folder, flushed, then
 * renamed over the old one, so that at any moment the old or the new file is there whole.
 *
 * @param folder the ledger folder; paths are relative to it
 */
export function nodeStore(folder: string, times: LockTimes = USUAL_TIMES): Store {
  return {
    read: (path) => guarded(path, () => readStored(join(folder, path))),
    writeIfUnchanged: (path, bytes, mark) =>
      guarded(path, () => writeIfUnchanged(join(folder, path), bytes, mark)),
    whileLocked: (path, action) =>
      guarded(path, async () => {
        const target = await targetOf(join(folder, path));
        await makeFolder(dirname(target));
        return withFileLock(GROUND, lockPath(target), times, async () => {
          await sweep(target);
          return action();
        });
      }),
  };
}

async function readStored(path: string): Promise<Stored | undefined> {
  try {
    const kind = await stat(path);
    if (!kind.isFile() && !kind.isDirectory()) {
      throw new StoreFault(path, 'ENOTFILE', 'it is no ordinary file', 'move it away');
    }
    const bytes = await readFile(path);
    return { bytes, mark: markOf(bytes) };
  } catch (thrown) {
    if (codeOf(thrown) === 'ENOENT') return undefined;
    throw thrown;
  }
}

function markOf(bytes: Uint8Array): string {
  return createHash('sha256').update(bytes).digest('hex');
}

async function writeIfUnchanged(
  path: string,
  bytes: Uint8Array,
  mark: string,
): Promise<'written' | 'changed'> {
  const target = await targetOf(path);
  const temporary = temporaryPath(target);
  try {
    await writeFlushed(temporary, bytes, await modeOf(target));
    // As late as can be: what an editor saves after this look and before the rename is lost.
    const now = await readStored(target);
    if ((now?.mark ?? ABSENT) !== mark) return 'changed';
    if (mark === ABSENT) {
      if (!(await putNew(temporary, target))) return 'changed';
    } else await rename(temporary, target);
  } finally {
    await rm(temporary, { force: true });
  }
  await flushFolder(dirname(target));
  return 'written';
}

async function writeFlushed(
  path: string,
  bytes: Uint8Array,
  mode: number | undefined,
): Promise<void> {
  const file = await open(path, 'wx', mode ?? 0o666);
  try {
    await file.writeFile(bytes);
    // The mask of the process may have taken permissions away that the old file has.
    if (mode !== undefined) await file.chmod(mode);
    await file.sync();
  } finally {
    await file.close();
  }
}

/** Gives a file its name if nothing has that name; a link, unlike a rename, never replaces. */
async function putNew(temporary: string, target: string): Promise<boolean> {
  try {
    await link(temporary, target);
  } catch (thrown) {
    if (codeOf(thrown) === 'EEXIST') return false;
    if (!['EPERM', 'ENOTSUP', 'ENOSYS', 'EOPNOTSUPP'].includes(codeOf(thrown))) throw thrown;
    // A disk without hard links.
    await rename(temporary, target);
  }
  return true;
}

/** The folder of season files, but never the ledger folder itself: if that is gone, something is wrong. */
async function makeFolder(path: string): Promise<void> {
  try {
    await mkdir(path);
  } catch (thrown) {
    if (codeOf(thrown) !== 'EEXIST') throw thrown;
  }
}

/** The rename itself is safe on the disk only when the folder is flushed; not every system can. */
async function flushFolder(path: string): Promise<void> {
  let folder: FileHandle | undefined;
  try {
    folder = await open(path, 'r');
    await folder.sync();
  } catch (thrown) {
    if (!['EISDIR', 'EPERM', 'EACCES', 'EINVAL', 'ENOTSUP'].includes(codeOf(thrown))) throw thrown;
  } finally {
    await folder?.close();
  }
}

/** The file that a link leads to, so that the link itself stays. */
async function targetOf(path: string): Promise<string> {
  try {
    return await realpath(path);
  } catch (thrown) {
    if (codeOf(thrown) !== 'ENOENT') throw thrown;
    if (!(await isLink(path))) return path;
    const advice = 'put the file that it leads to back, or remove the link';
    throw new StoreFault(path, 'ENOENT', 'it is a link that leads nowhere', advice);
  }
}

async function isLink(path: string): Promise<boolean> {
  try {
    return (await lstat(path)).isSymbolicLink();
  } catch (thrown) {
    if (codeOf(thrown) === 'ENOENT') return false;
    throw thrown;
  }
}

async function modeOf(path: string): Promise<number | undefined> {
  try {
    return (await stat(path)).mode & 0o777;
  } catch (thrown) {
    if (codeOf(thrown) === 'ENOENT') return undefined;
    throw thrown;
  }
}

const GROUND: LockGround = {
  newHolder: () => ({
    pid: process.pid,
    host: hostname(),
    at: new Date().toISOString(),
    token: randomBytes(8).toString('hex'),
  }),
  create: createNew,
  look: async (path) => {
    try {
      const text = await readFile(path, 'utf8');
      return { text, age: Date.now() - (await stat(path)).mtimeMs };
    } catch (thrown) {
      if (codeOf(thrown) === 'ENOENT') return undefined;
      throw thrown;
    }
  },
  remove: (path) => rm(path, { force: true }),
  isRunning: (pid) => {
    try {
      process.kill(pid, 0);
      return true;
    } catch (thrown) {
      // Not permitted: it runs, under another account.
      return codeOf(thrown) === 'EPERM';
    }
  },
};

async function createNew(path: string, text: string): Promise<boolean> {
  let file: FileHandle;
  try {
    file = await open(path, 'wx');
  } catch (thrown) {
    if (codeOf(thrown) === 'EEXIST') return false;
    throw thrown;
  }
  try {
    await file.writeFile(text);
  } catch (thrown) {
    // A full disk still has room for an empty file, which would keep everyone out.
    await rm(path, { force: true });
    throw thrown;
  } finally {
    await file.close();
  }
  return true;
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
async function sweep(target: string): Promise<void> {
  const begin = temporaryName(target);
  for (const name of await readdir(dirname(target))) {
    if (name.startsWith(begin) && name.endsWith('.tmp')) {
      await rm(join(dirname(target), name), { force: true });
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

function codeOf(thrown: unknown): string {
  return thrown instanceof Error && 'code' in thrown ? String(thrown.code) : '';
}
