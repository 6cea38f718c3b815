import { describe, expect, test } from 'vitest';
import { run } from '../src/cli/run.ts';
import { memoryHost } from './support/memory-host.ts';
import { WALL_AND_GLASS } from './support/wall-and-glass.ts';

async function printed(argv: readonly string[], columns = 80) {
  const world = memoryHost({ files: WALL_AND_GLASS, env: { COLUMNS: String(columns) } });
  const status = await run(argv, world.host);
  return { status, out: world.out(), err: world.err() };
}

async function cardOf(...argv: readonly string[]) {
  const { status, out, err } = await printed(['card', ...argv, '--format', 'json']);
  expect(err).toBe('');
  expect(status).toBe(0);
  return JSON.parse(out);
}

describe('a card for programs', () => {
  test('tells names and doubts, its own and those of others', async () => {
    const slate = await cardOf('slate-quay');
    expect(slate.sections.names).toMatchObject({
      key: 'slate-quay',
      name: 'Slate Quay',
      bears: 'san-pedro',
      perhaps: [{ cultivar: 'amber-lantern', why: 'same leaf', said: 'here' }],
      protected: null,
      note: 'Came as a stick.',
    });
    // A san-pedro fig drops its main crop without a pollinator (Condit 1955).
    expect(slate.sections.names.notExpected).toMatchObject([{ crop: 'main' }]);
    const amber = await cardOf('Lantern Yellow');
    expect(amber.sections.names).toMatchObject({
      also: ['Lantern Yellow'],
      perhaps: [{ cultivar: 'slate-quay', why: 'same leaf', said: 'there' }],
      notExpected: [],
      protected: true,
    });
  });

  test('tells where trees stand now and stood before, in the order of days', async () => {
    const { sections } = await cardOf('slate-quay');
    expect(sections.trees).toMatchObject([
      { tree: 'S1', site: 'yard', container: '30 L', planted: '2021-04', removed: null },
      { tree: 'S2', site: 'yard', container: null },
    ]);
    expect(sections.moves).toMatchObject([
      { tree: 'S1', on: '2026-03-10', kind: 'repot', container: '30 L' },
      { tree: 'S1', on: '2026-05-10', kind: 'move', site: 'yard' },
    ]);
    const amber = await cardOf('amber-lantern');
    expect(amber.sections.trees[0]).toMatchObject({
      receivedAs: 'Lantern, yellow',
      from: 'swap table',
    });
    expect(amber.sections.trees[1]).toMatchObject({ tree: 'A2', removed: '2025-11-30' });
    expect(amber.sections).not.toHaveProperty('moves');
  });

  test('counts each crop, site and season, and the seasons of a site together', async () => {
    const { rows } = (await cardOf('amber-lantern')).sections.seasons;
    expect(rows).toMatchObject([
      { crop: 'main', site: 'glasshouse', season: '2025', load: 30, fruitPerBranch: 5, picked: 0 },
      {
        ...{ crop: 'main', site: 'south wall', season: '2025', load: 16, fruitPerBranch: 2 },
        ...{ picked: 4, meanWeight: 50, soundShare: 0.75 },
        ...{ first: '2025-09-01', p50: '2025-09-01', last: '2025-09-01' },
      },
      {
        ...{ crop: 'main', site: 'south wall', season: '2026', load: 24, fruitPerBranch: 3 },
        ...{ meanWeight: 61, soundShare: 1 },
      },
      // (16 + 24) / (8 + 8); (200 + 122) / 6; five of six sound; no calendar of two years.
      {
        ...{ crop: 'main', site: 'south wall', season: '2025-2026', fruitPerBranch: 2.5 },
        ...{ meanWeight: 322 / 6, soundShare: 5 / 6, first: null },
      },
    ]);
  });

  test('takes plain means of what was tasted ripe', async () => {
    const { rows } = (await cardOf('amber-lantern')).sections.scores;
    expect(rows).toMatchObject([
      {
        season: '2025',
        sweetness: 6.5,
        flavour: 8.5,
        sittings: 1,
        tasters: 2,
        scores: 4,
        brix: 18,
      },
      { season: '2026', sweetness: 5, flavour: 4, sittings: 1, tasters: 1, scores: 2, brix: null },
      // (7 + 6 + 5) / 3 and (8 + 9 + 4) / 3.
      { season: '2025-2026', sweetness: 6, flavour: 7, sittings: 2, scores: 6 },
    ]);
    const slate = (await cardOf('slate-quay')).sections.scores;
    expect(slate.rows.map((row: { season: string }) => row.season)).toEqual(['2026']);
  });

  test('quotes rank and verdict as those commands have them', async () => {
    const { sections } = await cardOf('amber-lantern');
    for (const row of sections.ranks.rows) {
      const seasons = row.season.replace('-', '..');
      const by = row.cover === null ? [] : ['--by', 'cover'];
      const { out } = await printed(['rank', '--season', seasons, ...by, '--format', 'json']);
      const own = JSON.parse(out).rows.find(
        (one: { cultivar: string; cover?: string | null }) =>
          one.cultivar === 'Amber Lantern' && (one.cover ?? null) === row.cover,
      );
      for (const key of ['crop', 'rank', 'index', 'low', 'high', 'rankLow', 'rankHigh', 'why']) {
        expect(row[key], `${key} of ${row.season}`).toBe(own[key]);
      }
    }
    expect(sections.ranks.rows.map((row: { season: string }) => row.season)).toEqual([
      ...['2025', '2026', '2025-2026', '2025-2026', '2025-2026'],
    ]);
    const told: Record<string, unknown>[] = [];
    for (const by of [[], ['--by', 'cover']]) {
      const { out } = await printed(['verdict', ...by, '--format', 'json']);
      told.push(
        ...JSON.parse(out).rows.filter(
          (one: { cultivar: string }) => one.cultivar === 'Amber Lantern',
        ),
      );
    }
    expect(told.map(({ cover }) => cover ?? null)).toEqual([null, 'glass', 'open']);
    expect(sections.verdict).toEqual(
      told.map(({ crop, cover, verdict, rule, why, wanted }) => {
        return { crop, cover: cover ?? null, verdict, rule, why, wanted };
      }),
    );
  });

  test('people read its rank in each season alone where they ask for it', async () => {
    const ranks = async (...argv: readonly string[]) =>
      /\nRank( over the years)?\n([\s\S]*?)\nNotes of the seasons\n/.exec(
        (await printed(['card', 'amber-lantern', ...argv])).out,
      )?.[2];
    expect(await ranks()).not.toMatch(/ 2025 /);
    expect(await ranks('--full')).toMatch(/ 2025 /);
  });

  test('keeps to the seasons that are asked for', async () => {
    const { sections, selection } = await cardOf('amber-lantern', '--season', '2025');
    expect(selection.season).toEqual([2025]);
    for (const key of ['seasons', 'scores', 'ranks']) {
      const seasons = sections[key].rows.map((row: { season: string }) => row.season);
      expect(new Set(seasons), key).toEqual(new Set(['2025']));
    }
    expect(sections.remarks.every(({ on }: { on: string }) => on.startsWith('2025'))).toBe(true);
  });

  test('shows notes with what they are about', async () => {
    const { sections } = await cardOf('slate-quay');
    expect(sections.remarks).toEqual([
      {
        ...{ on: '2025-09-03', about: 'sample', tree: 'S1', crop: 'main', ripeness: 'over' },
        ...{ score: 2.5, text: 'gone at the neck' },
      },
      {
        ...{ on: '2025-09-03', about: 'tasting', tree: null, crop: null, ripeness: null },
        ...{ score: 2.5, text: 'All four of us.' },
      },
      {
        ...{ on: '2026-09-05', about: 'sample', tree: 'S1', crop: 'main', ripeness: null },
        ...{ score: 8.5, text: 'honey' },
      },
    ]);
    const fewer = await cardOf('slate-quay', '--notes', '1');
    expect(fewer.sections.remarks.map(({ text }: { text: string }) => text)).toEqual(['honey']);
    expect(fewer.notes.map(({ text }: { text: string }) => text).join()).toContain('1 of 3 notes');
  });
});

describe('a card for people', () => {
  test.each([60, 80, 120])('keeps within %i columns', async (columns) => {
    const { out } = await printed(['card', 'amber-lantern'], columns);
    for (const line of out.split('\n')) expect(line.length).toBeLessThanOrEqual(columns);
    expect(out).toContain('Lantern Yellow');
    expect(out).toContain('removed 30 November 2025 from glasshouse');
    expect(out).toMatch(/Caution: Breeders' rights rest on this cultivar/);
    expect(out).not.toMatch(/undefined|null|NaN/);
  });

  test('has the same figures as Markdown and as a page', async () => {
    const markdown = (await printed(['card', 'amber-lantern', '--format', 'markdown'])).out;
    expect(markdown).toContain('| main | south wall | 2025-2026 | 1 | 40 | 2.50 |');
    expect(markdown).toContain('- **Also:** Lantern Yellow');
    const html = (await printed(['card', 'amber-lantern', '--format', 'html'])).out;
    expect(html).toContain('<dt>Also</dt>\n<dd>Lantern Yellow</dd>');
    const ids = [...html.matchAll(/ id="([^"]*)"/g)].map(([, id]) => id);
    expect(ids.length).toBeGreaterThan(1);
    expect(new Set(ids).size).toBe(ids.length);
    for (const [, id] of html.matchAll(/aria-labelledby="([^"]*)"/g)) expect(ids).toContain(id);
  });

  test('reminds of rules wherever nobody has looked', async () => {
    const { out } = await printed(['card', 'slate-quay'], 120);
    expect(out).toMatch(/Caution: Before plants are given away or sold, check plant-health rules/);
    expect(out).toMatch(/Caution: Names in doubt: Slate Quay \(perhaps Amber Lantern\)/);
  });

  test('says what to type instead of a name that is not there', async () => {
    const { status, err } = await printed(['card', 'Amber Lanten']);
    expect(status).toBe(2);
    expect(err).toContain('did you mean Amber Lantern?');
  });

  test('is written to a file without colours', async () => {
    const world = memoryHost({ files: WALL_AND_GLASS, isTTY: true, env: { FORCE_COLOR: '1' } });
    expect(await run(['card', 'amber-lantern', '--output', 'card.txt'], world.host)).toBe(0);
    expect(world.out()).toBe('');
    const text = String(world.files.get('/trial/card.txt'));
    expect(text).toContain('Amber Lantern');
    expect(text).not.toContain('\u001b');
  });

  test('tells a file that ends in .json all that it tells a program', async () => {
    const world = memoryHost({ files: WALL_AND_GLASS });
    expect(await run(['card', 'amber-lantern', '--output', 'card.json'], world.host)).toBe(0);
    const { out } = await printed(['card', 'amber-lantern', '--format', 'json']);
    expect(String(world.files.get('/trial/card.json'))).toBe(out);
  });

  test('tells of a cultivar of which nothing is known', async () => {
    const files = {
      ...WALL_AND_GLASS,
      'cultivars.yaml': `${WALL_AND_GLASS['cultivars.yaml']}ebb-violet: { name: Ebb Violet, bears: common }\n`,
    };
    const world = memoryHost({ files });
    expect(await run(['card', 'ebb-violet'], world.host)).toBe(0);
    expect(world.out()).toContain('No tree of it in trees.yaml.');
    expect(world.out()).toContain('Not tasted ripe.');
    expect(world.out()).toContain('Nothing to rank it by.');
  });
});
