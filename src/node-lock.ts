import { createHash, randomBytes } from 'node:crypto';
import { open, readFile, rm, stat } from 'node:fs/promises';
import { hostname } from 'node:os';
import { basename } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import { StoreFault } from './entry/store.ts';

export interface LockTimes {
  /** How long to wait for one's turn, ms. */
  readonly patience: number;
  /** Longest pause between two looks, ms. */
  readonly pause: number;
  /** After this, a lock of another machine, or one that says nothing, is taken to be left over, ms. */
  readonly stale: number;
}

export const USUAL_TIMES: LockTimes = { patience: 30_000, pause: 40, stale: 120_000 };

/** Who holds a lock. The token makes each lock one of its kind. */
interface Holder {
  readonly pid: number;
  readonly host: string;
  readonly at: string;
  readonly token: string;
}

/**
 * Does something while a lock file is ours. The file is made only where there is none, and names its
 * process; one whose process has gone is taken away. Waits with uneven pauses, and gives up after
 * `times.patience` with a `StoreFault`.
 */
export async function withFileLock<Result>(
  path: string,
  times: LockTimes,
  action: () => Promise<Result>,
): Promise<Result> {
  const own = await acquire(path, times, Date.now() + times.patience);
  try {
    return await action();
  } finally {
    // Only our own: if it was taken for left over and broken, it belongs to someone else now.
    if ((await readLock(path))?.text === own) await rm(path, { force: true });
  }
}

async function acquire(path: string, times: LockTimes, until: number): Promise<string> {
  for (;;) {
    const own = await create(path);
    if (own !== undefined) return own;
    const seen = await readLock(path);
    if (seen !== undefined && isLeftOver(seen, times)) {
      await takeAway(path, seen.text, times, until);
      continue;
    }
    if (Date.now() > until) throw busy(path, seen);
    // Uneven, so that those who wait do not all look at once.
    await sleep(1 + Math.random() * times.pause);
  }
}

async function create(path: string): Promise<string | undefined> {
  const holder: Holder = {
    pid: process.pid,
    host: hostname(),
    at: new Date().toISOString(),
    token: randomBytes(8).toString('hex'),
  };
  const text = `${JSON.stringify(holder)}\n`;
  try {
    const file = await open(path, 'wx');
    try {
      await file.writeFile(text);
    } catch (thrown) {
      // A full disk still has room for an empty file, which would keep everyone out.
      await rm(path, { force: true });
      throw thrown;
    } finally {
      await file.close();
    }
    return text;
  } catch (thrown) {
    if (codeOf(thrown) === 'EEXIST') return undefined;
    throw thrown;
  }
}

interface SeenLock {
  readonly text: string;
  readonly holder: Holder | undefined;
  /** ms */
  readonly age: number;
}

async function readLock(path: string): Promise<SeenLock | undefined> {
  try {
    const text = await readFile(path, 'utf8');
    const age = Date.now() - (await stat(path)).mtimeMs;
    return { text, holder: holderOf(text), age };
  } catch (thrown) {
    if (codeOf(thrown) === 'ENOENT') return undefined;
    throw thrown;
  }
}

function holderOf(text: string): Holder | undefined {
  try {
    const read: unknown = JSON.parse(text);
    if (typeof read !== 'object' || read === null) return undefined;
    const { pid, host, at, token } = read as Partial<Record<keyof Holder, unknown>>;
    return typeof pid === 'number' && typeof host === 'string'
      ? { pid, host, at: String(at), token: String(token) }
      : undefined;
  } catch {
    return undefined;
  }
}

function isLeftOver({ holder, age }: SeenLock, times: LockTimes): boolean {
  // Just made and not yet written, or cut short in between.
  if (holder === undefined) return age > Math.min(times.stale, 5000);
  if (holder.host !== hostname()) return age > times.stale;
  return !isRunning(holder.pid);
}

function isRunning(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (thrown) {
    // Not permitted: it runs, under another account.
    return codeOf(thrown) === 'EPERM';
  }
}

/**
 * Removes a lock that is left over. Two processes may see the same one; only who holds the lock on
 * this very lock may remove it, after looking again, so that a new lock is never taken for the old.
 */
async function takeAway(
  path: string,
  text: string,
  times: LockTimes,
  until: number,
): Promise<void> {
  const mark = createHash('sha256').update(text).digest('hex').slice(0, 12);
  const guard = `${path}-${mark}`;
  const own = await acquire(guard, times, until);
  try {
    const again = await readLock(path);
    if (again?.text === text && isLeftOver(again, times)) await rm(path, { force: true });
  } finally {
    if ((await readLock(guard))?.text === own) await rm(guard, { force: true });
  }
}

function busy(path: string, seen: SeenLock | undefined): StoreFault {
  const by =
    seen?.holder === undefined ? '' : ` (process ${seen.holder.pid} on ${seen.holder.host})`;
  return new StoreFault(
    path,
    'LOCKED',
    `another pomary is writing to it${by} and does not finish`,
    `if none is running, remove the file ${basename(path)} beside it`,
  );
}

function codeOf(thrown: unknown): string {
  return thrown instanceof Error && 'code' in thrown ? String(thrown.code) : '';
}
