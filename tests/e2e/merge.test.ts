import { mkdtempSync, readFileSync, rmSync, utimesSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { layFiles } from '../support/lay-files.ts';
import { linesAdded } from '../support/lines-added.ts';
import { type Ran, runCommand } from '../support/run-command.ts';
import { SMALL_EXAMPLE } from '../support/small-example.ts';

const BIN = fileURLToPath(new URL('../../bin/pomary.js', import.meta.url));
const SEASON = 'seasons/2026.yaml';
const BEFORE = SMALL_EXAMPLE[SEASON] ?? '';
/** How often each kind of merge is tried; the counts in the documents are of 6. */
const REPEATS = Number(process.env['MERGE_TRIALS'] ?? 1);

const ENV = {
  HOME: tmpdir(),
  GIT_CONFIG_NOSYSTEM: '1',
  GIT_CONFIG_GLOBAL: '/dev/null',
  GIT_AUTHOR_NAME: 'Mara',
  GIT_AUTHOR_EMAIL: 'mara@example.org',
  GIT_COMMITTER_NAME: 'Mara',
  GIT_COMMITTER_EMAIL: 'mara@example.org',
};

let folder = '';
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'pomary-merge-'));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

function git(cwd: string, ...argv: readonly string[]): Ran {
  return runCommand(['git', ...argv], { cwd, env: ENV });
}

function done(ran: Ran): void {
  if (ran.status !== 0) throw new Error(ran.out + ran.err);
}

let made = 0;
/** A ledger in a repository of which git knows who joins its files, or does not. */
function repository(withDriver: boolean, files = SMALL_EXAMPLE): string {
  const root = join(folder, `ledger ${made++}`);
  layFiles(root, files);
  done(git(root, 'init', '--quiet', '--initial-branch=main'));
  done(runCommand([process.execPath, BIN, 'merge', '--setup'], { cwd: root }));
  if (withDriver) {
    const driver = `"${process.execPath}" "${BIN}" merge %O %A %B %P`;
    done(git(root, 'config', 'merge.pomary.driver', driver));
  }
  commit(root, 'Begin');
  return root;
}

function commit(root: string, subject: string): void {
  done(git(root, 'add', '--all'));
  done(git(root, 'commit', '--quiet', '-m', subject));
}

/** A branch from the beginning on which something is done. */
function branch(root: string, name: string, action: () => void): void {
  done(git(root, 'checkout', '--quiet', '-B', name, 'main'));
  // Checked out a moment ago; whoever writes now would wait for it to settle.
  const then = Date.now() / 1000 - 60;
  utimesSync(join(root, SEASON), then, then);
  action();
  commit(root, name);
}

function pomary(root: string, ...argv: readonly string[]): Ran {
  return runCommand([process.execPath, BIN, ...argv], { cwd: root });
}

function read(root: string, path = SEASON): string {
  return readFileSync(join(root, path), 'utf8');
}

const DAYS = {
  'other days in the season': [
    '2026-07-28 2026-08-03',
    '2026-08-05 2026-07-30',
    '2026-07-27 2026-08-20',
    '2026-08-21 2026-08-25',
    '2026-07-30 2026-08-06',
    '2026-08-23 2026-08-04',
  ],
  'one day in the season': [
    '2026-07-28 2026-07-28',
    '2026-07-30 2026-07-30',
    '2026-08-03 2026-08-03',
    '2026-08-05 2026-08-05',
    '2026-08-21 2026-08-21',
    '2026-08-25 2026-08-25',
  ],
  'other days at its end': [
    '2026-10-20 2026-10-21',
    '2026-10-22 2026-10-21',
    '2026-10-20 2026-10-24',
    '2026-10-25 2026-10-21',
    '2026-10-23 2026-10-26',
    '2026-10-27 2026-10-22',
  ],
  'one day at its end': [
    '2026-10-20 2026-10-20',
    '2026-10-21 2026-10-21',
    '2026-10-22 2026-10-22',
    '2026-10-23 2026-10-23',
    '2026-10-24 2026-10-24',
    '2026-10-25 2026-10-25',
  ],
} as const;

const WAYS: Readonly<Record<string, (on: string, side: 0 | 1) => readonly string[]>> = {
  pick: (on, side) => [
    ...['pick', side === 0 ? 'G3' : 'Y1', 'main', '--on', on],
    ...['--weights', side === 0 ? '41.5' : '38.2'],
  ],
  count: (on, side) => [
    ...['count', side === 0 ? 'G3' : 'Y1', 'main', '--on', on],
    ...['--fruit', side === 0 ? '14' : '15'],
  ],
  taste: (on, side) => [
    ...['taste', 'G3', 'main', '--on', on, '--taster', side === 0 ? 'mara' : 'joss'],
    ...['--score', side === 0 ? 'flavour=7' : 'flavour=6'],
  ],
};

test(
  'two people with an entry each: git alone mostly stops, with the driver it never does',
  () => {
    const tried = { merges: 0, alone: 0, driven: 0 };
    const [alone, driven] = [repository(false), repository(true)];
    for (const argvOf of Object.values(WAYS)) {
      for (const days of Object.values(DAYS)) {
        for (const pair of days.slice(0, REPEATS)) {
          const [mine = '', theirs = ''] = pair.split(' ');
          branch(driven, 'ours', () => done(pomary(driven, ...argvOf(mine, 0))));
          const ours = read(driven);
          branch(driven, 'theirs', () => done(pomary(driven, ...argvOf(theirs, 1))));
          const other = read(driven);
          branch(alone, 'theirs', () => writeFileSync(join(alone, SEASON), other));
          branch(alone, 'ours', () => writeFileSync(join(alone, SEASON), ours));
          tried.merges++;
          if (git(alone, 'merge', '--quiet', 'theirs').status !== 0) {
            tried.alone++;
            done(git(alone, 'merge', '--abort'));
          }
          const merge = git(driven, 'merge', '--quiet', '--no-edit', 'ours');
          if (merge.status !== 0) tried.driven++;
          expect({ pair, ...merge }).toMatchObject({ status: 0 });
          const text = read(driven);
          for (const line of [ours, other].flatMap((one) => linesAdded(BEFORE, one))) {
            expect(text).toContain(line.trim());
          }
        }
      }
      expect(pomary(driven, 'check').status).toBe(0);
    }
    if (process.env['MERGE_TRIALS'] !== undefined) console.log(JSON.stringify(tried));
    expect(tried.driven).toBe(0);
    expect(tried.alone).toBeGreaterThan(tried.merges / 2);
  },
  600_000 * REPEATS,
);

test('sections of one sitting, trees, cultivars and a season that both began go together', () => {
  const root = repository(true);
  const append = (path: string, text: string) =>
    writeFileSync(join(root, path), read(root, path) + text);
  branch(root, 'ours', () => {
    append('trees.yaml', 'Z1: { cultivar: ferry-bell, site: yard }\n');
    append('cultivars.yaml', 'wall-lamp: { name: Wall Lamp, bears: common }\n');
    writeFileSync(
      join(root, 'seasons/2027.yaml'),
      'season: 2027\nevents:\n  - { on: 2027-03-01, tree: G3, kind: prune }\n',
    );
  });
  branch(root, 'theirs', () => {
    append('trees.yaml', 'A1: { cultivar: slate-quay, site: glass }\n');
    append('cultivars.yaml', 'tide-bell: { name: Tide Bell, bears: common }\n');
    writeFileSync(
      join(root, 'seasons/2027.yaml'),
      'season: 2027\nevents:\n  - { on: 2027-02-20, tree: Y1, kind: prune }\n',
    );
  });
  expect(git(root, 'merge', '--quiet', '--no-edit', 'ours')).toMatchObject({ status: 0 });
  expect(read(root, 'seasons/2027.yaml')).toBe(
    'season: 2027\nevents:\n  - { on: 2027-02-20, tree: Y1, kind: prune }\n  - { on: 2027-03-01, tree: G3, kind: prune }\n',
  );
  expect(read(root, 'trees.yaml').trimEnd().split('\n').slice(-2)).toEqual([
    'A1: { cultivar: slate-quay, site: glass }',
    'Z1: { cultivar: ferry-bell, site: yard }',
  ]);
  expect(read(root, 'cultivars.yaml')).toContain(
    'tide-bell: { name: Tide Bell, bears: common }\nwall-lamp:',
  );
});

test('a contradiction stops git at the entry, and what a person keeps is the end of it', () => {
  const root = repository(true);
  const change = (to: string) => () =>
    writeFileSync(join(root, SEASON), BEFORE.replace('fruit: 21, branches: 8', to));
  branch(root, 'ours', change('fruit: 22, branches: 8'));
  branch(root, 'theirs', change('fruit: 23, branches: 8'));
  const stopped = git(root, 'merge', 'ours');
  expect(stopped.status).toBe(1);
  expect(stopped.err).toContain(
    `pomary: ${SEASON}: two versions of an entry do not go together, at line 6;`,
  );
  expect(pomary(root, 'check').out).toContain(`${SEASON}:6:1 error merge-conflict`);
  const settled = read(root).replace(/^<{7} ours\n(.*\n)={7}\n.*\n>{7} theirs\n/m, '$1');
  expect(settled).toBe(BEFORE.replace('fruit: 21, branches: 8', 'fruit: 23, branches: 8'));
  writeFileSync(join(root, SEASON), settled);
  commit(root, 'Join');
  expect(pomary(root, 'check').status).toBe(0);
});
