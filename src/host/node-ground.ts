import { readFileSync } from 'node:fs';
import { hostname } from 'node:os';
import type { Holder, LockGround } from '../writing/lock.ts';
import { randomHex } from './node-crypto.ts';
import { codeOf, type Disk, unless } from './node-disk.ts';

/**
 * Lock files on a disk, held by processes of this machine.
 *
 * @param onStuck is told of a lock of ours that cannot be taken away
 */
export function nodeGround(disk: Disk, onStuck: LockGround['onStuck']): LockGround {
  return {
    newHolder: () => ({
      pid: process.pid,
      host: hostname(),
      at: new Date().toISOString(),
      token: randomHex(8),
      started: startOf(process.pid),
    }),
    create: (path, text) => createNew(disk, path, text),
    look: (path) =>
      unless(['ENOENT'], async () => {
        const text = await disk.readFile(path, 'utf8');
        return { text, age: Date.now() - (await disk.stat(path)).mtimeMs };
      }),
    remove: (path) => disk.rm(path, { force: true }),
    lifeOf,
    onStuck,
  };
}

function lifeOf({ pid, started }: Holder): 'runs' | 'gone' | 'unsure' {
  try {
    process.kill(pid, 0);
  } catch (thrown) {
    // Not permitted: it runs, under another account.
    if (codeOf(thrown) !== 'EPERM') return 'gone';
  }
  const now = startOf(pid);
  if (started === undefined || now === undefined) return 'unsure';
  return started === now ? 'runs' : 'gone';
}

/** When a process began, in the system's own measure; undefined where the system does not say. */
function startOf(pid: number): string | undefined {
  try {
    const text = readFileSync(`/proc/${pid}/stat`, 'latin1');
    // The name of the program stands in brackets and may hold anything; see proc(5), starttime.
    return text.slice(text.lastIndexOf(')') + 2).split(' ')[19];
  } catch {
    return undefined;
  }
}

async function createNew(disk: Disk, path: string, text: string): Promise<boolean> {
  const file = await unless(['EEXIST'], () => disk.open(path, 'wx'));
  if (file === undefined) return false;
  try {
    await file.writeFile(text);
  } catch (thrown) {
    // A full disk still has room for an empty file, which would keep everyone out.
    await disk.rm(path, { force: true });
    throw thrown;
  } finally {
    await file.close();
  }
  return true;
}
