import { StoreFault } from './store.ts';

export interface LockTimes {
  /** How long to wait for one's turn, ms. */
  readonly patience: number;
  /** Longest pause between two looks, ms. */
  readonly pause: number;
  /** After this, a lock of another machine is taken to be left over, ms. */
  readonly stale: number;
  /** The same of a process of this machine that may be another one with its number, ms. */
  readonly doubtful: number;
}

export const USUAL_TIMES: LockTimes = {
  patience: 30_000,
  pause: 40,
  stale: 120_000,
  doubtful: 600_000,
};

/** What is written in a lock file: who holds it, and a token that makes each lock one of its kind. */
export interface Holder {
  readonly pid: number;
  readonly host: string;
  /** When it was taken, for a person who finds the file. */
  readonly at: string;
  readonly token: string;
  /** When the process began, in the system's own measure, where the system says. */
  readonly started?: string | undefined;
}

export interface SeenLock {
  readonly text: string;
  /** ms; negative where the clock was set back since */
  readonly age: number;
}

/** The little of a machine that locking needs. */
export interface LockGround {
  /** A record of ourselves as the holder. */
  newHolder(): Holder;
  /** Makes a file if there is none of that name; says whether it did. */
  create(path: string, text: string): Promise<boolean>;
  look(path: string): Promise<SeenLock | undefined>;
  remove(path: string): Promise<void>;
  /**
   * Whether a process of this machine is there; `unsure` where one of that number is, but the
   * system does not say whether it is the same.
   */
  lifeOf(holder: Holder): 'runs' | 'gone' | 'unsure';
  /** Our own lock cannot be taken away; what was done while it was held is done all the same. */
  onStuck(path: string, thrown: unknown): void;
}

/**
 * Does something while a lock file is ours. The file is made only where there is none, and names its
 * process; one whose process has gone is taken away. Waits with uneven pauses, and gives up after
 * `times.patience` with a `StoreFault`.
 */
export async function withFileLock<Result>(
  ground: LockGround,
  path: string,
  times: LockTimes,
  action: () => Promise<Result>,
): Promise<Result> {
  const own = await acquire(ground, path, times, Date.now() + times.patience);
  try {
    return await action();
  } finally {
    await release(ground, path, own);
  }
}

async function acquire(
  ground: LockGround,
  path: string,
  times: LockTimes,
  until: number,
): Promise<string> {
  const holder = ground.newHolder();
  const own = `${JSON.stringify(holder)}\n`;
  for (;;) {
    if (await ground.create(path, own)) return own;
    const seen = await ground.look(path);
    if (seen !== undefined && isLeftOver(ground, seen, holder.host, times)) {
      await takeAway(ground, path, seen.text, times, until);
      continue;
    }
    if (Date.now() > until) throw busy(path, seen);
    // Uneven, so that those who wait do not all look at once.
    await pause(1 + Math.random() * times.pause);
  }
}

/** Only our own: if it was taken for left over and removed, it belongs to someone else now. */
async function release(ground: LockGround, path: string, own: string): Promise<void> {
  // Programs that look into every new file hold on to it for a moment.
  for (let attempt = 1; ; attempt++) {
    try {
      if ((await ground.look(path))?.text === own) await ground.remove(path);
      return;
    } catch (thrown) {
      if (attempt === 3) return ground.onStuck(path, thrown);
    }
    await pause(50 * attempt);
  }
}

/** How long a lock that says nothing may just have been made and not yet be written, ms. */
const WRITING = 5000;

function isLeftOver(
  ground: LockGround,
  { text, age }: SeenLock,
  host: string,
  times: LockTimes,
): boolean {
  const holder = holderOf(text);
  // A lock from the future was made before the clock was set back, so it is old as well.
  const distance = Math.abs(age);
  if (holder === undefined) return distance > WRITING;
  if (holder.host !== host) return distance > times.stale;
  const life = ground.lifeOf(holder);
  return life === 'gone' || (life === 'unsure' && distance > times.doubtful);
}

/**
 * Removes a lock that is left over. Two processes may see the same one; only who holds the lock on
 * this very lock may remove it, after looking again, so that a new lock is never taken for the old.
 */
async function takeAway(
  ground: LockGround,
  path: string,
  text: string,
  times: LockTimes,
  until: number,
): Promise<void> {
  const guard = `${path}-${holderOf(text)?.token ?? 'blank'}`;
  const own = await acquire(ground, guard, times, until);
  try {
    const again = await ground.look(path);
    const { host } = ground.newHolder();
    if (again?.text === text && isLeftOver(ground, again, host, times)) await ground.remove(path);
  } finally {
    await release(ground, guard, own);
  }
}

function holderOf(text: string): Holder | undefined {
  try {
    const read: unknown = JSON.parse(text);
    if (typeof read !== 'object' || read === null) return undefined;
    const { pid, host, at, token, started } = read as Partial<Record<keyof Holder, unknown>>;
    if (typeof pid !== 'number' || typeof host !== 'string') return undefined;
    // The token becomes part of a file name.
    const plain = String(token)
      .replaceAll(/[^0-9a-z]/gi, '')
      .slice(0, 32);
    return {
      pid,
      host,
      at: String(at),
      token: plain === '' ? 'blank' : plain,
      started: typeof started === 'string' ? started : undefined,
    };
  } catch {
    return undefined;
  }
}

function busy(path: string, seen: SeenLock | undefined): StoreFault {
  const holder = seen && holderOf(seen.text);
  const by = holder === undefined ? '' : ` (process ${holder.pid} on ${holder.host})`;
  const name = path.replace(/^.*[\\/]/, '');
  return new StoreFault(
    path,
    'LOCKED',
    `another pomary is writing to it${by} and does not finish`,
    `if none is running, remove the file ${name} beside it`,
  );
}

function pause(time: number): Promise<void> {
  return new Promise((resolve) => {
    setTimeout(resolve, time);
  });
}
