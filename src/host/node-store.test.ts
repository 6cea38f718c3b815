import {
  chmodSync,
  closeSync,
  ftruncateSync,
  linkSync,
  mkdtempSync,
  openSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  writeFileSync,
  writeSync,
} from 'node:fs';
import * as nodeDisk from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeEach, expect, test } from 'vitest';
import { layFiles } from '../../tests/support/lay-files.ts';
import type { NewEntry } from '../writing/new-entry.ts';
import type { QuietTimes } from '../writing/quiet.ts';
import { recordEntries } from '../writing/record-entries.ts';
import type { Disk } from './node-disk.ts';
import { nodeStore } from './node-store.ts';

const PATH = 'seasons/2026.yaml';
const OLD = Array.from(
  { length: 40 },
  (_, number) => `  - { on: 2026-07-01, tree: G3, crop: early, fruit: 1, note: old-${number} }\n`,
);
const TEXT = `# by hand\nseason: 2026\n\npicks:\n${OLD.join('')}`;
const QUIET: QuietTimes = { quiet: 80, empty: 160, patience: 3000, pause: 4 };
/** Whoever waits with these has failed. */
const NEVER: QuietTimes = { quiet: 1e9, empty: 1e9, patience: 0, pause: 1 };

const root = mkdtempSync(join(tmpdir(), 'pomary-store-'));
afterAll(() => rmSync(root, { recursive: true, force: true }));

let ledger = '';
let made = 0;
let warnings: string[] = [];
beforeEach(() => {
  ledger = join(root, String(made++));
  layFiles(ledger, { [PATH]: TEXT });
  warnings = [];
});

function write(note: string, disk: Partial<Disk> = {}, quiet = QUIET) {
  const entry: NewEntry = {
    section: 'picks',
    entry: { on: '2026-07-24', tree: 'G3', crop: 'early', fruit: 1, note },
  };
  const store = nodeStore(ledger, {
    quiet,
    disk: { ...nodeDisk, ...disk },
    warn: (path, warning) => warnings.push(`${path}: ${warning}`),
    locks: { patience: 2000, pause: 2, stale: 1000, doubtful: 1000 },
  });
  return recordEntries(store, PATH, [entry]);
}

const file = () => join(ledger, PATH);
const text = () => readFileSync(file(), 'utf8');
const beside = () => readdirSync(join(ledger, 'seasons')).sort();
const kept = () => readdirSync(join(ledger, '.pomary')).filter((name) => name !== '.gitignore');

function fault(code: string): Error {
  return Object.assign(new Error(code), { code });
}

/** A disk on which some methods of open files fail. */
function opened(methods: Readonly<Record<string, () => Promise<never>>>): Partial<Disk> {
  return {
    open: async (path, flags, mode) => {
      const handle = await nodeDisk.open(path, flags, mode);
      return new Proxy(handle, {
        get: (target, name) => {
          const value = methods[String(name)] ?? Reflect.get(target, name);
          return typeof value === 'function' ? value.bind(target) : value;
        },
      });
    },
  };
}

/** A disk whose call of that number, of whatever kind, fails; those on open files count too. */
function failingAt(number: number, code: string): { disk: Partial<Disk>; calls: () => number } {
  let calls = 0;
  const counted = <Thing extends object>(thing: Thing): Thing =>
    new Proxy(thing, {
      get: (target, name) => {
        const value: unknown = Reflect.get(target, name);
        if (typeof value !== 'function') return value;
        return async (...given: readonly unknown[]) => {
          const isClose = name === 'close';
          if (!isClose && ++calls === number) throw fault(code);
          const result: unknown = await Reflect.apply(value, target, given);
          return name === 'open' ? counted(result as object) : result;
        };
      },
    });
  const plain = Object.fromEntries(
    Object.entries(nodeDisk).filter(([, value]) => typeof value === 'function'),
  );
  const proxy = counted(plain);
  const disk = Object.fromEntries(
    Object.keys(plain).map((name) => [name, (proxy as Record<string, unknown>)[name]]),
  ) as Partial<Disk>;
  return { disk, calls: () => calls };
}

for (const code of ['EIO', 'ENOSPC', 'EACCES', 'EPERM']) {
  test(`whichever call fails with ${code}, what is said is what is so`, async () => {
    for (let number = 1; ; number++) {
      layFiles(ledger, { [PATH]: TEXT });
      const { disk, calls } = failingAt(number, code);
      const done = await write('one', disk);
      const isIn = text() !== TEXT;
      expect(`${number}: ${done.kind}`).toBe(`${number}: ${isIn ? 'recorded' : 'failed'}`);
      if (isIn) expect(text()).toContain('note: one');
      else expect(done).toMatchObject({ entries: expect.stringContaining('note: one') });
      for (const line of OLD) expect(text()).toContain(line);
      expect(await write('two')).toMatchObject({ kind: 'recorded' });
      expect(text()).toContain('note: two');
      expect(beside()).toEqual(['2026.yaml']);
      if (calls() < number) break;
      expect(number).toBeLessThan(200);
    }
  });
}

test('what fails once the entry is in the file is a warning', async () => {
  let syncs = 0;
  const noSync = opened({
    sync: async () => {
      // The first one is that of the file itself.
      if (++syncs > 1) throw fault('EIO');
      return undefined as never;
    },
  });
  expect(await write('one', noSync)).toMatchObject({ kind: 'recorded' });
  expect(warnings).toEqual([
    `${PATH}: it is written, but the disk did not confirm it (EIO); look whether the disk is sound, and keep a copy elsewhere`,
  ]);
  warnings = [];
  const stubborn: Partial<Disk> = {
    rm: async (path, options) => {
      if (String(path).endsWith('.lock')) throw fault('EACCES');
      return nodeDisk.rm(path, options);
    },
  };
  expect(await write('two', stubborn)).toMatchObject({ kind: 'recorded' });
  expect(warnings).toEqual([`${PATH}: .2026.yaml.lock beside it cannot be removed (EACCES)`]);
  expect(text()).toMatch(/one[\s\S]*two/);
});

test('a mode that the disk refuses to set stops nothing, and one that fits is not set', async () => {
  for (const code of ['EPERM', 'ENOTSUP', 'ENOSYS']) {
    let asked = 0;
    const disk = opened({
      chmod: async () => {
        asked++;
        throw fault(code);
      },
    });
    // More than the mask of a process leaves to a new file.
    chmodSync(file(), 0o666);
    expect(await write(code, disk)).toMatchObject({ kind: 'recorded' });
    expect(asked).toBe(1);
    chmodSync(file(), 0o644);
    expect(await write(`${code} again`, disk)).toMatchObject({ kind: 'recorded' });
    expect(asked).toBe(1);
  }
  expect(warnings).toEqual([]);
});

test('a file that something holds on to is tried again, then told of with what to do', async () => {
  let refusals = 2;
  const disk = (code: string): Partial<Disk> => ({
    rename: async (from, to) => {
      if (refusals-- > 0) throw fault(code);
      return nodeDisk.rename(from, to);
    },
  });
  expect(await write('one', disk('EBUSY'))).toMatchObject({ kind: 'recorded' });
  for (const code of ['EBUSY', 'EXDEV']) {
    refusals = 100;
    const before = text();
    expect(await write('two', disk(code))).toMatchObject({
      kind: 'failed',
      fault: { code, advice: expect.stringContaining('mount its folder instead') },
    });
    expect(text()).toBe(before);
  }
  expect(beside()).toEqual(['2026.yaml']);
});

test('a file that its owner made read-only is left alone', async () => {
  chmodSync(file(), 0o444);
  expect(await write('one')).toMatchObject({
    kind: 'failed',
    fault: {
      message: 'it is marked read-only',
      advice: 'if it is to be changed, allow writing to it first',
    },
    entries: expect.stringContaining('note: one'),
  });
  expect(text()).toBe(TEXT);
  chmodSync(file(), 0o644);
  const barred = { access: () => Promise.reject(fault('EACCES')) };
  expect(await write('one', barred)).toMatchObject({
    kind: 'failed',
    fault: { message: 'this account may not write to it' },
  });
});

test('another name of the file keeps the old text, and that is told once', async () => {
  const other = join(ledger, 'copy.yaml');
  linkSync(file(), other);
  await write('one');
  await write('two');
  expect(warnings).toEqual([
    `${PATH}: it had another name as well (a hard link), which keeps the text as it was`,
  ]);
  expect(readFileSync(other, 'utf8')).toBe(TEXT);
  expect(text()).toMatch(/one[\s\S]*two/);
});

test('the owner stays where the system allows it, and a change of owner is told', async () => {
  const given: unknown[] = [];
  const foreign = (chown: () => Promise<never>): Partial<Disk> => ({
    ...opened({
      chown: async (...owner: readonly unknown[]) => {
        given.push(owner);
        return chown();
      },
    }),
    stat: (async (path: string, options?: { bigint?: boolean }) => {
      const seen = await nodeDisk.stat(path, options);
      if (String(path).endsWith('2026.yaml') && options === undefined) {
        Object.assign(seen, { uid: Number(seen.uid) + 1234 });
      }
      return seen;
    }) as Disk['stat'],
  });
  const { uid, gid } = statSync(file());
  await write(
    'one',
    foreign(() => Promise.reject(fault('EPERM'))),
  );
  expect(given).toEqual([[uid + 1234, gid]]);
  expect(warnings).toEqual([
    `${PATH}: it belonged to another account (${uid + 1234}), and belongs to yours now`,
  ]);
});

test('a quick sequence of our own writes waits for nothing', async () => {
  for (const note of ['one', 'two', 'three', 'four']) {
    expect(await write(note, {}, note === 'one' ? QUIET : NEVER)).toMatchObject({
      kind: 'recorded',
    });
  }
  expect(kept()).toHaveLength(1);
  rmSync(file());
  rmSync(join(ledger, '.pomary'), { recursive: true });
  for (const note of ['one', 'two', 'three']) {
    expect(await write(note, {}, NEVER)).toMatchObject({ kind: 'recorded' });
  }
});

test('an empty file that nobody is saving can be begun', async () => {
  writeFileSync(file(), '');
  expect(await write('one')).toMatchObject({ kind: 'recorded' });
  expect(text()).toMatch(/^season: 2026\n[\s\S]*note: one/m);
});

test('a file that someone keeps saving is left alone, and the entry handed back', async () => {
  writeFileSync(file(), TEXT);
  expect(await write('one', {}, NEVER)).toMatchObject({
    kind: 'failed',
    fault: { code: 'CHANGED', message: 'another program keeps saving it' },
    entries: expect.stringContaining('note: one'),
  });
  expect(text()).toBe(TEXT);
});

const BY_HAND = `${TEXT}  - { on: 2026-07-20, tree: G3, crop: early, fruit: 1, note: by-hand }\n`;

for (const rest of [0, TEXT.indexOf(OLD[3] ?? '')]) {
  test(`a save that pauses after ${rest} bytes is waited for`, async () => {
    const editor = openSync(file(), 'r+');
    ftruncateSync(editor, rest);
    const saved = new Promise<void>((resolve) => {
      setTimeout(() => {
        writeSync(editor, BY_HAND, 0);
        closeSync(editor);
        resolve();
      }, 60);
    });
    const [done] = await Promise.all([write('one'), saved]);
    expect(done).toMatchObject({ kind: 'recorded' });
    expect(text()).toMatch(/by-hand[\s\S]*one/);
    for (const line of OLD) expect(text()).toContain(line);
  });

  test(`a save that begins between the last look and the rename (${rest} bytes left) gets its text back`, async () => {
    const editor = openSync(file(), 'r+');
    let saved = Promise.resolve();
    const disk: Partial<Disk> = {
      rename: async (from, to) => {
        if (String(from).endsWith('.tmp') && text() === TEXT) {
          ftruncateSync(editor, rest);
          saved = new Promise((resolve) => {
            setTimeout(() => {
              writeSync(editor, BY_HAND, 0);
              closeSync(editor);
              resolve();
            }, 60);
          });
        }
        return nodeDisk.rename(from, to);
      },
    };
    const done = await write('one', disk);
    await saved;
    expect(done).toMatchObject({ kind: 'recorded' });
    expect(text()).toMatch(/by-hand[\s\S]*one/);
    expect(text().match(/note: one/g)).toHaveLength(1);
    for (const line of OLD) expect(text()).toContain(line);
    expect(beside()).toEqual(['2026.yaml']);
  });
}

test('a save that begins while our own last write is known again is waited for', async () => {
  await write('one');
  const mine = text();
  const editor = openSync(file(), 'r+');
  let saved: Promise<void> | undefined;
  const disk = {
    readFile: async (path: string, ...rest: readonly never[]) => {
      const bytes = await nodeDisk.readFile(path, ...rest);
      if (path === file() && saved === undefined) {
        ftruncateSync(editor);
        saved = new Promise((resolve) => {
          setTimeout(() => {
            writeSync(editor, mine.replace('by hand', 'by hand, by-hand'), 0);
            closeSync(editor);
            resolve();
          }, 60);
        });
      }
      return bytes;
    },
  } as Partial<Disk>;
  expect(await write('two', disk)).toMatchObject({ kind: 'recorded' });
  await saved;
  expect(text()).toMatch(/by-hand[\s\S]*one[\s\S]*two/);
});

test('what is saved to the replaced file later is brought to light by the next write', async () => {
  const editor = openSync(file(), 'r+');
  await write('one');
  writeSync(editor, BY_HAND, 0);
  closeSync(editor);
  expect(await write('two')).toMatchObject({ kind: 'recorded' });
  expect(text()).toMatch(/one[\s\S]*two/);
  expect(beside()).toEqual(['2026.yaml', '2026.yaml.also-saved']);
  expect(readFileSync(`${file()}.also-saved`, 'utf8')).toBe(BY_HAND);
  expect(warnings).toEqual([
    `${PATH}: another program saved it just when pomary wrote to it; what that program saved is in ${PATH}.also-saved: put what it has more into ${PATH}, then remove it`,
  ]);
  // Told once; what says nothing new is not told at all.
  expect(await write('three')).toMatchObject({ kind: 'recorded' });
  const again = openSync(join(ledger, '.pomary', kept()[0] ?? ''), 'r+');
  ftruncateSync(again, TEXT.length);
  closeSync(again);
  expect(await write('four')).toMatchObject({ kind: 'recorded' });
  expect(warnings).toHaveLength(1);
});

test('a file of which only the beginning is left is not written on, and the rest is kept', async () => {
  await write('one');
  const before = text();
  await write('two');
  for (const rest of ['', TEXT.slice(0, TEXT.indexOf(OLD[3] ?? ''))]) {
    layFiles(ledger, { [PATH]: rest });
    const done = await write('three');
    const name = `.pomary/${kept()[0]}`;
    expect(done).toMatchObject({
      kind: 'failed',
      fault: {
        code: 'CUT',
        message: `only its first ${rest.length} of ${before.length} bytes are left`,
        advice: `copy ${name} over it to have them back; if they went on purpose, remove ${name}`,
      },
    });
    expect(text()).toBe(rest);
    expect(readFileSync(join(ledger, name), 'utf8')).toBe(before);
  }
  rmSync(join(ledger, '.pomary', kept()[0] ?? ''));
  expect(await write('three')).toMatchObject({ kind: 'recorded' });
});

test('on a disk without hard links a copy is kept', async () => {
  const disk: Partial<Disk> = { link: () => Promise.reject(fault('EPERM')) };
  await write('one', disk);
  expect(readFileSync(join(ledger, '.pomary', kept()[0] ?? ''), 'utf8')).toBe(TEXT);
  await write('two', disk);
  expect(text()).toMatch(/one[\s\S]*two/);
  expect(kept()).toHaveLength(1);
});
