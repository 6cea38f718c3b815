import { expect, test } from 'vitest';
import { type LockGround, type LockTimes, withFileLock } from './lock.ts';

const TIMES: LockTimes = { patience: 200, pause: 3, stale: 1000, doubtful: 3000 };

interface Machine {
  readonly files: Map<string, { text: string; made: number }>;
  /** Processes that are there, with when they began where the machine says. */
  readonly running: Map<number, string | undefined>;
  readonly stuck: string[];
}

let tokens = 0;

/** A process of a machine without a disk; every step may be overtaken by another process. */
function ground(machine: Machine, pid: number, host = 'here'): LockGround {
  const turn = () => new Promise<void>((resolve) => setTimeout(resolve, Math.random() * 2));
  return {
    newHolder: () => ({ pid, host, at: 'now', token: `t${tokens++}` }),
    create: async (path, text) => {
      await turn();
      if (machine.files.has(path)) return false;
      machine.files.set(path, { text, made: Date.now() });
      return true;
    },
    look: async (path) => {
      await turn();
      const file = machine.files.get(path);
      return file && { text: file.text, age: Date.now() - file.made };
    },
    remove: async (path) => {
      await turn();
      machine.files.delete(path);
    },
    lifeOf: ({ pid: asked, started }) => {
      if (!machine.running.has(asked)) return 'gone';
      const now = machine.running.get(asked);
      if (now === undefined || started === undefined) return 'unsure';
      return now === started ? 'runs' : 'gone';
    },
    onStuck: (path) => machine.stuck.push(path),
  };
}

function machine(...pids: readonly number[]): Machine {
  return { files: new Map(), running: new Map(pids.map((pid) => [pid, 'boot'])), stuck: [] };
}

test('one at a time, though all of them first find the lock of a dead process', async () => {
  for (let round = 0; round < 10; round++) {
    const pids = [1, 2, 3, 4, 5, 6];
    const place = machine(...pids);
    const dead = JSON.stringify({ pid: 99, host: 'here', at: '', token: 'dead' });
    place.files.set('lock', { text: dead, made: 0 });
    let inside = 0;
    let done = 0;
    await Promise.all(
      pids.map((pid) =>
        withFileLock(ground(place, pid), 'lock', { ...TIMES, patience: 20_000 }, async () => {
          inside++;
          expect(inside).toBe(1);
          await new Promise((resolve) => setTimeout(resolve, 2));
          inside--;
          done++;
        }),
      ),
    );
    expect(done).toBe(pids.length);
    expect([...place.files.keys()]).toEqual([]);
  }
});

test('a lock whose process runs is waited for, then told of', async () => {
  const place = machine(1, 2);
  const held = JSON.stringify({ pid: 2, host: 'here', at: '', token: 'held', started: 'boot' });
  place.files.set('seasons/.2026.yaml.lock', { text: held, made: 0 });
  await expect(
    withFileLock(ground(place, 1), 'seasons/.2026.yaml.lock', TIMES, async () => 'in'),
  ).rejects.toMatchObject({
    code: 'LOCKED',
    message: 'another pomary is writing to it (process 2 on here) and does not finish',
    advice: 'if none is running, remove the file .2026.yaml.lock beside it',
  });
  expect(place.files.size).toBe(1);
});

test('a lock of another machine, or one that says nothing, is left over only when it is old', async () => {
  const far = JSON.stringify({ pid: 1, host: 'there', at: '', token: 'far' });
  for (const [text, age, taken] of [
    [far, 500, false],
    [far, 1500, true],
    ['', 2000, false],
    ['', 6000, true],
    ['{"pid":', 6000, true],
    [far, -500, false],
    [far, -86_400_000, true],
    ['', -86_400_000, true],
  ] as const) {
    const place = machine(1);
    place.files.set('lock', { text, made: Date.now() - age });
    const outcome = withFileLock(ground(place, 1), 'lock', TIMES, async () => 'in').catch(
      () => 'out',
    );
    expect(await outcome).toBe(taken ? 'in' : 'out');
  }
});

test('a process that only has the number of the one that held the lock keeps nobody out', async () => {
  for (const [started, now, age, taken] of [
    ['boot', 'boot', 86_400_000, false],
    ['earlier', 'boot', 10, true],
    ['earlier', undefined, 10, false],
    ['earlier', undefined, 4000, true],
    [undefined, 'boot', 4000, true],
    [undefined, 'boot', -4000, true],
  ] as const) {
    const place = machine(1);
    place.running.set(2, now);
    const held = JSON.stringify({ pid: 2, host: 'here', at: '', token: 'held', started });
    place.files.set('lock', { text: held, made: Date.now() - age });
    const outcome = withFileLock(ground(place, 1), 'lock', TIMES, async () => 'in').catch(
      () => 'out',
    );
    expect(await outcome).toBe(taken ? 'in' : 'out');
  }
});

test('a lock that cannot be taken away undoes nothing of what was done', async () => {
  const place = machine(1);
  const stubborn: LockGround = {
    ...ground(place, 1),
    remove: async () => {
      throw new Error('no');
    },
  };
  expect(await withFileLock(stubborn, 'lock', TIMES, async () => 'done')).toBe('done');
  expect(place.stuck).toEqual(['lock']);
});

test('the lock goes when the action fails', async () => {
  const place = machine(1);
  const failing = withFileLock(ground(place, 1), 'lock', TIMES, async () => {
    throw new Error('no');
  });
  await expect(failing).rejects.toThrow('no');
  expect(place.files.size).toBe(0);
});
