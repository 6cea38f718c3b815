import { execFileSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, renameSync, rmSync, unlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { Host } from '../src/cli/host.ts';
import { run } from '../src/cli/run.ts';
import { nodeHost } from '../src/host/node-host.ts';
import { exampleFiles } from './support/example-files.ts';
import { altered, WALL_AND_GLASS } from './support/wall-and-glass.ts';

// Real repositories in temporary folders, read by the git that is installed.

const places: string[] = [];
afterAll(() => {
  for (const place of places) rmSync(place, { recursive: true, force: true });
});

function newFolder(): string {
  const place = mkdtempSync(join(tmpdir(), 'pomary-changes-'));
  places.push(place);
  return place;
}

function write(folder: string, files: Readonly<Record<string, string>>): void {
  for (const [path, text] of Object.entries(files)) {
    mkdirSync(dirname(join(folder, path)), { recursive: true });
    writeFileSync(join(folder, path), text);
  }
}

/** Settings of the machine's owner must not decide a test. */
const PLAIN = {
  PATH: process.env['PATH'] ?? '',
  GIT_CONFIG_GLOBAL: '/dev/null',
  GIT_CONFIG_SYSTEM: '/dev/null',
  GIT_AUTHOR_NAME: 'Mara',
  GIT_AUTHOR_EMAIL: 'mara@example.org',
  GIT_COMMITTER_NAME: 'Mara',
  GIT_COMMITTER_EMAIL: 'mara@example.org',
};

function git(folder: string, ...args: readonly string[]): string {
  return execFileSync('git', args, { cwd: folder, env: PLAIN, encoding: 'utf8', stdio: 'pipe' });
}

function commit(folder: string, subject: string, date = '2026-09-10T12:00:00'): void {
  git(folder, 'add', '--all');
  execFileSync('git', ['commit', '--quiet', '--allow-empty', '-m', subject], {
    cwd: folder,
    env: { ...PLAIN, GIT_COMMITTER_DATE: date, GIT_AUTHOR_DATE: date },
  });
}

/** A repository whose ledger lies in `figs`, with one commit. */
function repository(files = WALL_AND_GLASS): string {
  const top = newFolder();
  git(top, 'init', '--quiet');
  write(join(top, 'figs'), files);
  commit(top, 'Begin the ledger');
  return top;
}

async function changes(folder: string, ...argv: readonly string[]) {
  let out = '';
  let err = '';
  const stream = (take: (text: string) => void) => ({
    ...{ isTTY: false, columns: undefined, colorDepth: 1 },
    write: take,
  });
  const host: Host = {
    ...nodeHost(),
    cwd: folder,
    env: {},
    stdout: stream((text) => {
      out += text;
    }),
    stderr: stream((text) => {
      err += text;
    }),
  };
  const status = await run(['changes', ...argv], host);
  return { status, out, err };
}

async function sectionsOf(folder: string, ...argv: readonly string[]) {
  const { status, out, err } = await changes(folder, ...argv, '--format', 'json');
  expect(err).toBe('');
  expect(status).toBe(0);
  return JSON.parse(out).sections;
}

const EMPTY = { added: 0, removed: 0, altered: 0 };

describe('changes since a revision', () => {
  test('finds nothing where nothing changed', async () => {
    const sections = await sectionsOf(join(repository(), 'figs'), '--since', 'HEAD');
    expect(sections.inShort).toMatchObject({
      ...EMPTY,
      since: { words: expect.stringContaining('2026-09-10: Begin the ledger') },
      until: { words: 'the files as they are', commit: null },
    });
    expect(sections.entries).toEqual([]);
    expect(sections.ranks.rows).toEqual([]);
    expect(sections).not.toHaveProperty('fruitPerBranch');
  });

  test('does not mind another way of writing the same', async () => {
    const top = repository();
    const { 'seasons/2026.yaml': season = '' } = WALL_AND_GLASS;
    const [head, ...entries] = season.split('\n').slice(1, 5);
    const others = season.split('\n').slice(5).join('\n');
    write(join(top, 'figs'), {
      'seasons/2026.yaml': `# turned round\r\nseason: 2026\r\n${[head, ...entries.reverse(), others].join('\r\n')}`,
    });
    const sections = await sectionsOf(join(top, 'figs'), '--since', 'HEAD');
    expect(sections.entries).toEqual([]);
  });

  test('tells no move that the simulation alone would make', { timeout: 120_000 }, async () => {
    const files = exampleFiles();
    const folder = join(repository(files), 'figs');
    write(folder, altered(files, 'seasons/2026.yaml', '[65.9, 58.1, 55.6]', '[66.0, 58.1, 55.6]'));
    const sections = await sectionsOf(folder, '--since', 'HEAD');
    expect(sections.inShort).toMatchObject({ ...EMPTY, altered: 1 });
    expect(sections.ranks.rows).toEqual([]);
  });

  test('tells entries added, removed and altered, and what moved by them', async () => {
    const top = repository();
    const folder = join(top, 'figs');
    let files = altered(
      WALL_AND_GLASS,
      'seasons/2026.yaml',
      'tree: A1, crop: main, fruit: 24',
      'tree: A1, crop: main, fruit: 32',
    );
    files = altered(
      files,
      'seasons/2026.yaml',
      '  - { on: 2026-08-20, tree: S2, crop: main, fruit: 8, branches: 4 }\n',
      '',
    );
    files = altered(
      files,
      'seasons/2026.yaml',
      'picks:\n',
      'picks:\n  - { on: 2026-09-20, tree: A1, crop: main, weights: [49] }\n',
    );
    files = altered(
      files,
      'seasons/2026.yaml',
      'S1: { sweetness: 8, flavour: 9 }',
      'S1: { sweetness: 8, flavour: 9.5 }',
    );
    files = altered(
      files,
      'seasons/2025.yaml',
      'on: 2025-09-03, tree: S1, crop: main, weights',
      'on: 2025-09-04, tree: S1, crop: main, weights',
    );
    files = altered(files, 'ledger.yaml', 'flavour: 2', 'flavour: 3');
    files = altered(
      files,
      'cultivars.yaml',
      'also: [Lantern Yellow]',
      'also: [Lantern Yellow, Wall Lantern]',
    );
    write(folder, files);
    const sections = await sectionsOf(folder, '--since', 'HEAD');
    const plain = { name: null, crop: 'main' };
    expect(sections.inShort).toMatchObject({ added: 1, removed: 1, altered: 5 });
    expect(sections.entries).toEqual([
      {
        ...{ what: 'altered', kind: 'setting', name: 'rank.weights.flavour', tree: null },
        ...{ crop: null, on: null, changes: [{ field: 'value', before: 2, after: 3 }] },
      },
      {
        ...{ what: 'altered', kind: 'cultivar', name: 'amber-lantern', tree: null },
        ...{ crop: null, on: null },
        changes: [
          {
            field: 'also',
            before: ['Lantern Yellow'],
            after: ['Lantern Yellow', 'Wall Lantern'],
          },
        ],
      },
      {
        ...{ ...plain, what: 'altered', kind: 'count', tree: 'A1', on: '2026-08-20' },
        changes: [{ field: 'fruit', before: 24, after: 32 }],
      },
      {
        ...{ ...plain, what: 'added', kind: 'pick', tree: 'A1', on: '2026-09-20' },
        fields: { fruit: 1, weights: [49] },
      },
      {
        ...{ ...plain, what: 'altered', kind: 'pick', tree: 'S1', on: '2025-09-04' },
        changes: [{ field: 'on', before: '2025-09-03', after: '2025-09-04' }],
      },
      {
        ...{ ...plain, what: 'altered', kind: 'sample', tree: 'S1', on: '2026-09-05' },
        changes: [{ field: 'flavour by Mara', before: 9, after: 9.5 }],
      },
      {
        ...{ ...plain, what: 'removed', kind: 'count', tree: 'S2', on: '2026-08-20' },
        fields: { fruit: 8, branches: 4 },
      },
    ]);
    // Amber Lantern over both seasons: (16 + 30 + 24) / (8 + 6 + 8), then 32 in place of 24;
    // Slate Quay: (12 + 12 + 8) / (8 + 8 + 4), then without the 8 on 4.
    expect(sections.fruitPerBranch.rows).toMatchObject([
      { cultivar: 'Amber Lantern', before: 70 / 22, after: 78 / 22 },
      { cultivar: 'Slate Quay', before: 32 / 20, after: 24 / 16 },
    ]);
    expect(sections.meanWeight.rows).toMatchObject([
      { cultivar: 'Amber Lantern', before: 322 / 6, after: 371 / 7 },
    ]);
    const [slate] = sections.ranks.rows.filter(
      (row: { cultivar: string }) => row.cultivar === 'Slate Quay',
    );
    expect(slate.entries).toBe(3);
    expect(slate.indexBefore).not.toBe(slate.indexAfter);

    const { out } = await changes(folder, '--since', 'HEAD');
    const words = out.replace(/\s+/g, ' ');
    expect(words).toContain('Entries 1 entry added, 1 removed, 5 altered');
    expect(words).toContain('A1 altered: count, main crop, 2026-08-20: fruit 32 (was 24)');
    expect(words).toContain('S2 removed: count, main crop, 2026-08-20: fruit 8, branches 4');
    expect(words).toContain('ledger.yaml altered: rank.weights.flavour: 3 (was 2)');
    expect(out).not.toMatch(/undefined|NaN|\[object/);
    for (const line of out.split('\n')) expect(line.length).toBeLessThanOrEqual(80);
  });

  test('compares two revisions, in either direction', async () => {
    const top = repository();
    const folder = join(top, 'figs');
    write(
      folder,
      altered(WALL_AND_GLASS, 'seasons/2026.yaml', 'weights: [33]', 'weights: [33, 35]'),
    );
    commit(top, 'Weigh another');
    write(folder, { 'seasons/2026.yaml': 'season: 2026\n' });
    const there = await sectionsOf(folder, '--since', 'HEAD~1', '--until', 'HEAD');
    expect(there.inShort).toMatchObject({ ...EMPTY, altered: 1 });
    expect(there.inShort.until.words).toContain('Weigh another');
    const [forth] = there.entries;
    const [back] = (await sectionsOf(folder, '--since', 'HEAD', '--until', 'HEAD~1')).entries;
    const turned = forth.changes.map(({ field, before, after }: Record<string, unknown>) => {
      return { field, before: after, after: before };
    });
    expect(back.changes).toEqual(turned);
  });

  test('takes a day for the last commit before it', async () => {
    const top = repository();
    write(join(top, 'figs'), altered(WALL_AND_GLASS, 'seasons/2026.yaml', '[33]', '[34]'));
    commit(top, 'Weigh again', '2026-10-01T08:00:00');
    const sections = await sectionsOf(join(top, 'figs'), '--since', '2026-10-01');
    expect(sections.inShort.since.words).toContain('Begin the ledger');
    const { status, err } = await changes(join(top, 'figs'), '--since', '2020-01-01');
    expect([status, err]).toEqual([2, 'pomary: there is no commit before 2020-01-01\n']);
  });

  test('finds the ledger under the name that its folder had', async () => {
    const top = repository();
    renameSync(join(top, 'figs'), join(top, 'orchard'));
    write(join(top, 'orchard'), altered(WALL_AND_GLASS, 'seasons/2026.yaml', '[33]', '[34]'));
    commit(top, 'Move the ledger');
    const sections = await sectionsOf(join(top, 'orchard'), '--since', 'HEAD~1');
    expect(sections.inShort.since.words).toMatch(/, then in figs$/);
    expect(sections.inShort).toMatchObject({ ...EMPTY, altered: 1 });
  });

  test('does not take another ledger of the repository for this one', async () => {
    const top = repository();
    write(join(top, 'plums'), WALL_AND_GLASS);
    const { status, err } = await changes(join(top, 'plums'), '--since', 'HEAD');
    expect([status, err]).toEqual([
      2,
      'pomary: there was no ledger.yaml in this folder yet at HEAD\n',
    ]);
  });

  test('reads a file that had another name, and one that is gone', async () => {
    const top = repository();
    const folder = join(top, 'figs');
    mkdirSync(join(folder, 'weather'));
    write(folder, {
      'weather/2026.csv': 'date,tmin,tmax,rain\n2026-05-01,4,12,0\n2026-05-02,5,13,1\n',
    });
    commit(top, 'Add weather');
    unlinkSync(join(folder, 'weather/2026.csv'));
    const sections = await sectionsOf(folder, '--since', 'HEAD');
    expect(sections.inShort).toMatchObject({ ...EMPTY, removed: 2 });
    expect(sections.entries[0]).toMatchObject({ kind: 'weather', on: '2026-05-01' });
  });

  test('says plainly that a revision has errors, with their places', async () => {
    const top = repository(altered(WALL_AND_GLASS, 'seasons/2026.yaml', 'tree: S2', 'tree: S9'));
    write(join(top, 'figs'), WALL_AND_GLASS);
    const { status, out, err } = await changes(join(top, 'figs'), '--since', 'HEAD');
    expect(status).toBe(1);
    expect(out).toBe('');
    expect(err).toContain('seasons/2026.yaml:5:29 error tree-unknown');
    expect(err).toMatch(/The ledger of [0-9a-f]+ \(2026-09-10\) has these errors/);
  });
});

describe('changes where git cannot help', () => {
  let top = '';
  beforeAll(() => {
    top = repository();
  });

  test.each([
    ['-x', '"-x" is no revision'],
    ['--output=figs/ledger.yaml', 'is no revision'],
    ['^HEAD', 'is no revision'],
    ['', 'is no revision'],
    ['HEAD\n', 'is no revision'],
    ['nowhere', 'the repository knows no revision nowhere; git log lists them'],
    ['HEAD..', 'write --since HEAD --until HEAD'],
    ['v1..topic/glass', 'write --since v1 --until topic/glass'],
    ['../../x', '../../x is no revision; git log lists them, and a day is written 2026-09-01'],
    ['HEAD:figs', 'knows no revision HEAD:figs'],
    ['; touch gone', 'knows no revision ; touch gone'],
  ])('refuses %j', async (revision, words) => {
    const { status, out, err } = await changes(join(top, 'figs'), `--since=${revision}`);
    expect(err).toContain(words);
    expect(status).toBe(2);
    expect(out).toBe('');
    expect(git(top, 'status', '--porcelain')).toBe('');
  });

  test('says that there is no commit yet', async () => {
    const fresh = newFolder();
    git(fresh, 'init', '--quiet');
    write(fresh, WALL_AND_GLASS);
    const { status, err } = await changes(fresh, '--since', 'HEAD');
    expect(status).toBe(3);
    expect(err).toMatch(/its repository has no commit yet/);
  });

  test('says that there is no repository', async () => {
    const bare = newFolder();
    write(bare, WALL_AND_GLASS);
    const { status, err } = await changes(bare, '--since', 'HEAD');
    expect(status).toBe(3);
    expect(err).toMatch(/it is not in a git repository/);
  });

  /** What is said where the programs that can be found are those of a folder. */
  async function saidWith(folder: string) {
    const path = process.env['PATH'];
    process.env['PATH'] = folder;
    try {
      return await changes(join(top, 'figs'), '--since', 'HEAD');
    } finally {
      process.env['PATH'] = path;
    }
  }

  test('says that git is not installed', async () => {
    const { status, err } = await saidWith(newFolder());
    expect(status).toBe(3);
    expect(err).toMatch(/git is not installed/);
  });

  test("passes on git's own advice about another owner, whatever language git speaks", async () => {
    const folder = newFolder();
    const says = 'if [ "$LC_ALL" = C ]; then echo "fatal: dubious ownership, type this" >&2; fi';
    writeFileSync(join(folder, 'git'), `#!/bin/sh\n${says}\nexit 128\n`, { mode: 0o755 });
    const { status, err } = await saidWith(folder);
    expect(status).toBe(3);
    expect(err).toContain('dubious ownership, type this');
  });
});
