import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Checks } from './checks.ts';
import type { Column } from './column.ts';
import type { Condition } from './condition.ts';
import { filesIn, seasonText } from './ledgers.ts';

const CULTIVARS = `amber-lantern: { name: Amber Lantern, bears: common }
old-wall-brown: { name: Old Wall Brown, bears: common }
`;
const TREES = `T1: { cultivar: amber-lantern, planted: 2022, site: garden, container: ground }
T2: { cultivar: old-wall-brown, planted: 2022, site: garden, container: "20 L" }
`;

const EVENING = `on 24 Jul 2026
pick T2 early 40 41.5
taste T2 early mara sweetness 5 flavour 6 ripe
order early mara T1 > T2
`;

const CSV = `date;tree;crop;fruit;weight (g)
2026-08-20;T1;main;4;180
2026-08-21;T2;main;2;75,5
`;

const ENTRIES = [
  '  - { on: 2026-07-02, tree: T1, crop: early, fruit: 21, branches: 8 }',
  '  - { on: 2026-07-24, tree: T1, crop: early, weights: [52.4, 47, 61.3], split: 1 }',
  '  - { on: 2026-07-24, tree: T2, crop: early, weights: [40, 41.5] }',
  '      mara: [T1, T2]',
  '  - { on: 2026-08-20, tree: T1, crop: main, fruit: 4, weight: 180 }',
  '  - { on: 2026-08-21, tree: T2, crop: main, fruit: 2, weight: 75.5 }',
];

/** From an empty folder to the first table, as a person goes about it. */
export const MAIN_JOB: Condition = {
  name: 'a ledger begun, an evening recorded',
  check: async (column, checks) => {
    const ledger = join(column.folder, 'begun');
    const done: Done = async (argv, input = '') => {
      const ran = await column.pomary(ledger, argv, { input });
      checks.that(argv.join(' '), ran.status === 0 && ran.err === '', ran.err || ran.out);
      return ran.out;
    };
    const begun = await column.pomary(column.folder, ['init', 'begun', '--latitude', '52.1']);
    checks.that('init', begun.status === 0 && begun.err === '', begun.err);
    checks.same('check', await done(['check']), 'no errors, warnings or hints\n');
    list(ledger);
    await record(done, ledger, checks);
    const season = seasonText(ledger);
    for (const entry of ENTRIES) checks.has('the season file', season, `${entry}\n`);
    await done(['check']);
    await figures(done, checks);
    await refusals(column, ledger, checks);
    await aroundIt(done, ledger, checks);
  },
};

/** What a person types into the files that `init` wrote. */
function list(ledger: string): void {
  writeFileSync(join(ledger, 'cultivars.yaml'), CULTIVARS);
  writeFileSync(join(ledger, 'trees.yaml'), TREES);
  const path = join(ledger, 'ledger.yaml');
  writeFileSync(path, readFileSync(path, 'utf8').replace('# mara: Mara', 'mara: Mara'));
}

type Done = (argv: readonly string[], input?: string) => Promise<string>;

async function record(done: Done, ledger: string, checks: Checks): Promise<void> {
  await done('count T1 early --on 2026-07-02 --fruit 21 --branches 8'.split(' '));
  await done('pick T1 early --on 2026-07-24 --weights 52.4,47,61.3 --split 1'.split(' '));
  await done(
    'taste T1 early --on 2026-07-24 --taster mara --score sweetness=8 --score flavour=9'.split(' '),
  );
  await done(['enter'], EVENING);
  const table = join(ledger, '..', 'picks.csv');
  writeFileSync(table, CSV);
  const before = JSON.stringify(filesIn(ledger));
  await done(['import', table, '--kind', 'picks', '--dry-run']);
  checks.that('import --dry-run changes no file', JSON.stringify(filesIn(ledger)) === before);
  await done(['import', table, '--kind', 'picks']);
}

async function figures(done: Done, checks: Checks): Promise<void> {
  const rows = async (...argv: readonly string[]) =>
    (JSON.parse(await done([...argv, '--format', 'json'])) as { rows: Record<string, unknown>[] })
      .rows;
  const early = ['--crop', 'early', '--tree', 'T1'];
  const [load] = await rows('yield', ...early);
  checks.same('21 fruit on 8 branches', String(load?.['fruitPerBranch']), String(21 / 8));
  const [weight] = await rows('weights', ...early);
  const mean = (52.4 + 47 + 61.3) / 3;
  checks.that('mean of three weights', Math.abs(Number(weight?.['mean']) - mean) < 1e-12);
  const tasted = await rows('scores', '--crop', 'early');
  checks.that('two cultivars, two traits', tasted.length === 4);
}

/** What cannot be right changes no file, and ends with the status that is promised. */
async function refusals(column: Column, ledger: string, checks: Checks): Promise<void> {
  const before = JSON.stringify(filesIn(ledger));
  const refused: readonly (readonly [string, number])[] = [
    ['pick T9 early --weights 5', 2],
    ['pick T1 early --on 2026-02-30 --weights 5', 2],
    ['pick T1 --nonsense', 2],
    ['nonsense', 2],
    ['--ledger nowhere check', 3],
    ['enter nowhere.txt', 3],
  ];
  for (const [line, status] of refused) {
    const ran = await column.pomary(ledger, line.split(' '));
    checks.that(`refused: ${line}`, ran.status === status, `${ran.status} ${ran.err}`);
    checks.that(`a reason for: ${line}`, ran.err.trim() !== '');
  }
  checks.that('a refusal changes no file', JSON.stringify(filesIn(ledger)) === before);
}

async function aroundIt(done: Done, ledger: string, checks: Checks): Promise<void> {
  const before = JSON.stringify(filesIn(ledger));
  checks.has('dry run', await done(['pick', 'T1', 'main', '--weights', '5', '--dry-run']), '[5]');
  checks.that('a dry run changes no file', JSON.stringify(filesIn(ledger)) === before);
  await done(['tidy']);
  const tidied = JSON.stringify(filesIn(ledger));
  await done(['tidy']);
  checks.that('tidy run twice changes nothing', JSON.stringify(filesIn(ledger)) === tidied);
  await done(['tidy', '--check']);
  await done(['schema', '--write']);
  await done(['export', '--output', 'tables']);
  checks.has('export', readFileSync(join(ledger, 'tables/picks.csv'), 'utf8'), '2026-07-24');
  await done(['post', '--output', 'post.md', '--figures', '.']);
  await done(['sheet', '--output', 'round.html']);
}
