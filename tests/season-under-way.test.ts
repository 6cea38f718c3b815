import { describe, expect, test } from 'vitest';
import { run } from '../src/cli/run.ts';
import { memoryHost } from './support/memory-host.ts';

const LAST_YEAR = `season: 2025
counts:
  - { on: 2025-07-01, tree: A, crop: early, fruit: 12, branches: 4 }
  - { on: 2025-07-01, tree: B, crop: early, fruit: 10, branches: 4 }
picks:
  - { on: 2025-07-20, tree: A, crop: early, fruit: 6, weight: 300 }
  - { on: 2025-07-28, tree: A, crop: early, fruit: 6, weight: 300 }
  - { on: 2025-07-25, tree: B, crop: early, fruit: 10, weight: 400 }
`;
const COUNT = `season: 2026
counts:
  - { on: 2026-07-02, tree: A, crop: early, fruit: 21, branches: 6 }
`;
const ONE_PICK = `${COUNT}picks:
  - { on: 2026-07-22, tree: A, crop: early, weights: [51] }
`;

/** What a command prints on a day, of a ledger with last year's season and the beginning of this one. */
async function told(season: string, today: string, ...argv: readonly string[]): Promise<string> {
  const files = {
    'ledger.yaml': `title: Two summers
fruit: fig
pollinator: absent
crops: { early: breba }
scale: { low: 1, high: 10 }
traits: [flavour]
tasters: { mara: Mara }
sites: { yard: { name: yard, cover: open } }
rank: { weights: { flavour: 1 } }
`,
    'cultivars.yaml':
      'a: { name: Alpha Quay, bears: common }\nb: { name: Beta Quay, bears: common }\n',
    'trees.yaml': 'A: { cultivar: a, site: yard }\nB: { cultivar: b, site: yard }\n',
    'seasons/2025.yaml': LAST_YEAR,
    'seasons/2026.yaml': season,
  };
  const world = memoryHost({ files, today });
  const exit = await run(argv, world.host);
  expect({ exit, err: world.err() }).toEqual({ exit: 0, err: '' });
  return world.out();
}

const post = (season: string, today: string) =>
  told(season, today, 'post', '--full', '--front-matter', 'none');

describe('a post on a season of which nothing is picked yet', () => {
  test("does not tell last year's days as this year's", async () => {
    const text = await post(COUNT, '2026-07-03');
    expect(text).not.toContain('When ripe, in 2026');
    expect(text).toContain('- 2026 is not over: breba 21 fruit counted, none picked yet.');
    expect(text).not.toMatch(/2026: when it was picked/);
    expect(text).toContain('day by which half was picked, 2025**');
    expect(text).not.toContain('2025 to 2026**\n\n| Cultivar |\n');
  });
});

describe('a crop of which one fruit of many is picked', () => {
  test('is not half picked', async () => {
    const text = await post(ONE_PICK, '2026-07-23');
    expect(text).toContain('2026 is not over: breba 1 of 21 fruit picked so far.');
    expect(text).not.toMatch(/half of|half picked by/);
    expect(text).toContain('Early crop (breba), 2026 so far: when it was picked');
  });

  test('has no half-picked day in ripening, and says why', async () => {
    const args = ['ripening', '--season', '2026', '--format', 'json'];
    const { rows, notes } = JSON.parse(await told(ONE_PICK, '2026-07-23', ...args));
    expect(rows).toMatchObject([
      {
        first: '2026-07-22',
        p10: null,
        p50: null,
        last: '2026-07-22',
        windowDays: null,
        soFar: '1 of 21',
      },
    ]);
    expect(JSON.stringify(notes)).toContain('2026 is not over: breba 1 of 21 fruit picked so far');
  });

  test('is told by what was picked once the year is over', async () => {
    const args = ['ripening', '--season', '2026', '--format', 'json'];
    const { rows } = JSON.parse(await told(ONE_PICK, '2027-01-01', ...args));
    expect(rows).toMatchObject([{ p50: '2026-07-22', soFar: null }]);
    expect(await post(ONE_PICK, '2027-01-01')).toContain('half of the early crop of Alpha Quay');
  });

  test('is told so on the card', async () => {
    const { sections } = JSON.parse(
      await told(ONE_PICK, '2026-07-23', 'card', 'a', '--format', 'json'),
    );
    expect(sections.seasons.rows).toMatchObject([
      { season: '2025', p50: '2025-07-20', soFar: null },
      { season: '2026', p50: null, soFar: '1 of 21' },
      { p50: null },
    ]);
  });
});

describe('changes while a season has only begun', () => {
  test('calls nothing gone', async () => {
    const text = await told(COUNT, '2026-07-03', 'changes');
    expect(text).not.toMatch(/s gone/);
    expect(text).toMatch(/No entry yet in 2026 +1 tree of Beta Quay/);
    expect(await told(COUNT, '2027-01-01', 'changes')).toMatch(/Cultivars gone +Beta Quay/);
  });

  test('says of a figure that is in one season alone that nothing can be compared', async () => {
    const text = await told(COUNT, '2026-07-03', 'changes');
    expect(text).toContain(
      'No cultivar with trees at the same site in 2025 and 2026 has it in both.',
    );
    expect(text).not.toContain('It moved in no cultivar');
  });
});

describe('a season under way in tables for machines and in a comparison', () => {
  test('has no half-picked day in an export', async () => {
    const text = await told(
      ONE_PICK,
      '2026-07-23',
      'export',
      '--table',
      'figures',
      '--format',
      'jsonl',
    );
    const rows = text
      .trim()
      .split('\n')
      .map((line) => JSON.parse(line) as Readonly<Record<string, unknown>>);
    const half = (season: number) =>
      rows.filter((row) => row['season'] === season).map((row) => row['halfPicked']);
    expect(half(2026)).toEqual([null]);
    expect(half(2025)).toEqual(['2025-07-20', '2025-07-25']);
  });

  test('does not say which of two ripens first', async () => {
    const both =
      `${ONE_PICK}  - { on: 2026-07-20, tree: B, crop: early, fruit: 1, weight: 40 }\n`.replace(
        'picks:',
        '  - { on: 2026-07-02, tree: B, crop: early, fruit: 9, branches: 3 }\npicks:',
      );
    const args = ['compare', 'Alpha Quay', 'Beta Quay', '--season', '2026', '--format', 'json'];
    const parts = async (today: string) => {
      const { rows } = JSON.parse(await told(both, today, ...args)) as {
        rows: readonly { part: string; difference: number | null }[];
      };
      return rows.find(({ part }) => part === 'ripening')?.difference;
    };
    expect(await parts('2026-07-23')).toBeNull();
    expect(await parts('2027-02-01')).toBe(2);
  });
});
