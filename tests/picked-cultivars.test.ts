import { describe, expect, test } from 'vitest';
import { run } from '../src/cli/run.ts';
import { memoryHost } from './support/memory-host.ts';

const MINUTES = 120_000;
const TREES = { A: 9, B: 7, C: 4 };

function season(year: number, crop: string): string {
  const sittings = ['08-20', '08-27', '09-03'].map(
    (day) => `  - on: ${year}-${day}
    samples: [${Object.keys(TREES)
      .map((tree) => `{ tree: ${tree}, crop: ${crop} }`)
      .join(', ')}]
    scores:
${['mara', 'joss']
  .map(
    (taster) =>
      `      ${taster}: { ${Object.entries(TREES)
        .map(([tree, flavour]) => `${tree}: { flavour: ${flavour} }`)
        .join(', ')} }`,
  )
  .join('\n')}
    order: { mara: [A, B, C] }`,
  );
  return `season: ${year}
picks:
  - { on: ${year}-08-20, tree: A, crop: main, fruit: 5, weight: 200 }
  - { on: ${year}-08-20, tree: B, crop: main, fruit: 5, weight: 300 }
  - { on: ${year}-08-21, tree: B, crop: main, fruit: 9 }
  - { on: ${year}-08-20, tree: C, crop: main, fruit: 5, weight: 100 }
tastings:
${sittings.join('\n')}
`;
}

const FILES = {
  'ledger.yaml': `title: Three plums
fruit: plum
scale: { low: 1, high: 10 }
traits: [flavour]
tasters: { mara: Mara, joss: Joss }
sites: { yard: { name: yard, cover: open } }
rank: { weights: { flavour: 1 } }
`,
  'cultivars.yaml': ['a: Alpha', 'b: Beta', 'c: Gamma']
    .map((one) => one.replace(/(\w): (\w+)/, '$1: { name: $2 Gage, bears: main }\n'))
    .join(''),
  'trees.yaml':
    'A: { cultivar: a, site: yard }\nB: { cultivar: b, site: yard }\nC: { cultivar: c, site: yard }\n',
  'seasons/2026.yaml': season(2026, 'main'),
};

async function told(files: Readonly<Record<string, string>>, ...argv: readonly string[]) {
  const world = memoryHost({ files });
  const exit = await run(argv, world.host);
  expect({ exit, err: world.err() }).toEqual({ exit: 0, err: '' });
  return world.out();
}

type Rows = readonly Record<string, unknown>[];
const rows = async (files: Readonly<Record<string, string>>, ...argv: readonly string[]) =>
  (JSON.parse(await told(files, ...argv, '--format', 'json')) as { rows: Rows }).rows;

describe('a cultivar that is picked out', () => {
  test.each([
    ['rank', []],
    ['verdict', []],
    ['scores', []],
    ['preference', []],
  ])(
    'keeps the figures that it has among all: %s',
    async (command, more) => {
      const all = await rows(FILES, command, ...more);
      const own = await rows(FILES, command, ...more, '--cultivar', 'b');
      expect(own).toEqual(all.filter((row) => row['cultivar'] === 'Beta Gage'));
      expect(own.length).toBeGreaterThan(0);
      // Several with commas, as lists are given elsewhere.
      const two = await rows(FILES, command, ...more, '--cultivar', 'b, Alpha Gage');
      const names = ['Alpha Gage', 'Beta Gage'];
      expect(two).toEqual(all.filter((row) => names.includes(String(row['cultivar']))));
    },
    MINUTES,
  );

  test(
    'has its place in a post, and is not called the highest',
    async () => {
      const text = await told(FILES, 'post', '--full', '--front-matter', 'none', '--cultivar', 'b');
      expect(text).toMatch(/Beta Gage has rank 2 \(\d+ to \d+\) among all cultivars/);
      expect(text).not.toMatch(/highest index|all 1 ranked/);
    },
    MINUTES,
  );
});

describe('one cultivar alone in a crop', () => {
  const alone = {
    ...FILES,
    'seasons/2026.yaml': FILES['seasons/2026.yaml'].replace(
      /\{ tree: [BC], crop: main \}(, )?|(, )?[BC]: \{ flavour: \d \}|^ {4}order.*\n|^.*tree: [BC], crop: main, fruit.*\n/gm,
      '',
    ),
  };

  test(
    'has an index, and no rank, letter or chance',
    async () => {
      const [row] = await rows(alone, 'rank');
      expect(row).toMatchObject({ cultivar: 'Alpha Gage', index: expect.any(Number) });
      expect(row).toMatchObject({ rank: null, rankLow: null, topShare: null, letters: null });
      expect(row?.['why']).toBe('no other could be judged beside it');
    },
    MINUTES,
  );

  test(
    'is not called the best in a post',
    async () => {
      const text = await told(alone, 'post', '--full', '--front-matter', 'none');
      expect(text).toContain('but no other could be judged beside it.');
      expect(text).not.toContain('highest index');
    },
    MINUTES,
  );
});

test('a cultivar of which one pick has no weight stands by what was weighed', async () => {
  const all = await rows(FILES, 'crops');
  expect(all.map((row) => row['cultivar'])).toEqual(['Beta Gage', 'Alpha Gage', 'Gamma Gage']);
  expect(all[0]).toMatchObject({ mainWeight: null, mainWeightAtLeast: 300 });
  expect(all[1]).toMatchObject({ mainWeight: 200, mainWeightAtLeast: null });
  expect(await told(FILES, 'post', '--full', '--front-matter', 'none')).toContain(
    'Main at least (g)',
  );
});
