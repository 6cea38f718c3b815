import { describe, expect, test } from 'vitest';
import { run } from '../src/cli/run.ts';
import { memoryHost } from './support/memory-host.ts';
import { altered, WALL_AND_GLASS } from './support/wall-and-glass.ts';

async function printed(argv: readonly string[], files = WALL_AND_GLASS, columns = 80) {
  const world = memoryHost({ files, env: { COLUMNS: String(columns) } });
  const status = await run(['changes', ...argv], world.host);
  return { status, out: world.out(), err: world.err() };
}

async function changesOf(...argv: readonly string[]) {
  const { out } = await printed([...argv, '--format', 'json']);
  return JSON.parse(out);
}

describe('changes between seasons', () => {
  test('sets the last season against the one before', async () => {
    const { report, title, selection } = await changesOf();
    expect({ report, title }).toEqual({ report: 'changes', title: 'From 2025 to 2026' });
    expect(selection).toMatchObject({ season: [2026], against: 2025 });
    expect(await changesOf('--season', '2026', '--against', '2025')).toEqual(await changesOf());
  });

  test('tells who came and who went', async () => {
    const { arrivals } = (await changesOf()).sections;
    expect(arrivals).toEqual({
      newCultivars: [],
      goneCultivars: [],
      newTrees: [{ tree: 'S2', cultivar: 'slate-quay' }],
      awaitedTrees: [],
      goneTrees: [{ tree: 'A2', cultivar: 'amber-lantern', removed: '2025-11-30' }],
    });
    const back = (await changesOf('--season', '2025', '--against', '2026')).sections.arrivals;
    expect(back.newTrees).toEqual([{ tree: 'A2', cultivar: 'amber-lantern' }]);
  });

  test('tells a tree that was taken out in the season, and calls no old tree new', async () => {
    const files = altered(
      WALL_AND_GLASS,
      'trees.yaml',
      'site: yard, container: ground }',
      'site: yard, container: ground, removed: 2026-11-20 }',
    );
    const told = (await printed(['--season', '2026'], files)).out.replaceAll(/\s+/g, ' ');
    expect(told).toMatch(/Trees gone .*A1 \(Amber Lantern\), removed 20 November 2026/);
    expect(told).toContain('Trees not seen in 2025 S2 (Slate Quay)');
    expect(told).not.toContain('New trees');
  });

  test('compares figures of the same trees at the same site alone', async () => {
    const { sections } = await changesOf();
    // A2 went and S2 came, S1 was moved to the wall: A1 alone can be compared.
    expect(sections.fruitPerBranch.rows).toEqual([
      {
        ...{ crop: 'main', cultivar: 'Amber Lantern', before: 2, after: 3 },
        ...{ change: 1, relative: 0.5, trees: 1 },
      },
    ]);
    expect(sections.meanWeight.rows).toMatchObject([
      { cultivar: 'Amber Lantern', before: 50, after: 61, change: 11, relative: 0.22 },
    ]);
    expect(sections.soundShare.rows).toMatchObject([{ before: 0.75, after: 1, change: 0.25 }]);
    expect(sections.inShort.fruitPerBranch).toEqual([
      { crop: 'main', cultivars: 1, rose: 1, fell: 0, middle: 0.5 },
    ]);
  });

  test('has the ranks of both seasons as rank itself tells them', async () => {
    const { rows } = (await changesOf()).sections.ranks;
    expect(rows).toHaveLength(2);
    for (const [season, key] of [
      ['2025', 'Before'],
      ['2026', 'After'],
    ] as const) {
      const world = memoryHost({ files: WALL_AND_GLASS });
      await run(['rank', '--season', season, '--format', 'json'], world.host);
      for (const own of JSON.parse(world.out()).rows) {
        const row = rows.find((one: { cultivar: string }) => one.cultivar === own.cultivar);
        expect(row[`rank${key}`]).toBe(own.rank);
        expect(row[`index${key}`]).toBe(own.index);
      }
    }
    // Slate Quay was only tasted overripe in 2025.
    const slate = rows.find((one: { cultivar: string }) => one.cultivar === 'Slate Quay');
    expect(slate).toMatchObject({ rankBefore: null, places: null, moved: 'newly ranked' });
  });

  test.each([60, 80, 120])('is told in plain words within %i columns', async (columns) => {
    const { out } = await printed([], WALL_AND_GLASS, columns);
    for (const line of out.split('\n')) expect(line.length).toBeLessThanOrEqual(columns);
    const words = out.replace(/\s+/g, ' ');
    expect(words).toContain('S2 (Slate Quay)');
    expect(words).toContain('A2 (Amber Lantern), removed 30 November 2025');
    expect(words).toContain(
      'Main, fruit/branch only one can be compared: Amber Lantern (2.00 to 3.00).',
    );
    // Every row is shown, and the crop has no other name here.
    expect(words).not.toMatch(/At most|Crops:/);
    expect(out).not.toMatch(/undefined|null|NaN|Infinity/);
  });

  test('says that rows are left out, where some are', async () => {
    const { out } = await printed(['--top', '1']);
    expect(out).toContain('At most 1 row of each crop stands in a table; --top shows more.');
  });

  test('says when nothing came or went', async () => {
    const same = altered(
      altered(WALL_AND_GLASS, 'seasons/2025.yaml', 'tree: A2', 'tree: S2'),
      'trees.yaml',
      'removed: 2025-11-30',
      'note: in the corner',
    );
    const { out } = await printed([], same);
    expect(out).toContain('The same 3 trees as in 2025 have entries in 2026.');
  });

  test.each([
    [['--season', '2026', '--against', '2026'], 'cannot be set against itself'],
    [
      ['--season', '2024', '--against', '2025'],
      'there is no season 2024; the ledger has the seasons 2025, 2026',
    ],
    [['--season', '2025'], 'two seasons are needed'],
    [['--season', '2025..2026'], 'write --season 2026 --against 2025'],
    [['--until', 'HEAD'], '--until goes with --since'],
    [['--since', 'HEAD', '--against', '2025'], "cannot be used with option '--against"],
    [['--since', 'nowhere'], 'knows no revision nowhere'],
    [['--crop', 'spring'], 'the crops are early, main, breba'],
  ])('refuses %j', async (argv, words) => {
    const { status, out, err } = await printed(argv);
    expect(err).toContain(words);
    expect(status).toBe(2);
    expect(out).toBe('');
  });
});
