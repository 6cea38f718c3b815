import { expect, test } from 'vitest';
import { EXIT } from '../src/cli/exit.ts';
import { run } from '../src/cli/run.ts';
import { memoryHost } from './support/memory-host.ts';

const SITES = ['glass', 'yard', 'plot'];
const CULTIVARS: Readonly<Record<string, { name: string; loads: readonly number[] }>> = {
  amber: { name: 'Amber Lantern', loads: [20, 12, 10] },
  slate: { name: 'Slate Quay', loads: [30, 16, 8] },
  maid: { name: 'Bushel Maid', loads: [25, 14, 9] },
};

/** Three cultivars at three sites in two seasons, and one that stood in one place only. */
function trial(): Record<string, string> {
  const trees = Object.keys(CULTIVARS).flatMap((key) =>
    SITES.map((site) => `${key}-${site}: { cultivar: ${key}, site: ${site} }`),
  );
  const seasonOf = (year: number, more: number) => {
    const counts = Object.entries(CULTIVARS).flatMap(([key, { loads }]) =>
      SITES.map(
        (site, at) =>
          `  - { on: ${year}-08-01, tree: ${key}-${site}, crop: main, fruit: ${(loads[at] ?? 0) + more}, branches: 8 }`,
      ),
    );
    counts.push(`  - { on: ${year}-08-01, tree: W1, crop: main, fruit: 6, branches: 8 }`);
    return `season: ${year}\ncounts:\n${counts.join('\n')}\n`;
  };
  return {
    'ledger.yaml': `title: Tidewrack Lane fig trial
fruit: fig
traits: [flavour]
sites: { glass: { name: glasshouse, cover: glass }, yard: { name: south wall, cover: open }, plot: { name: far plot, cover: open } }
`,
    'cultivars.yaml': [
      ...Object.entries(CULTIVARS).map(
        ([key, { name }]) => `${key}: { name: ${name}, bears: common }`,
      ),
      'wherry: { name: Penny Wherry, bears: common }',
      '',
    ].join('\n'),
    'trees.yaml': [...trees, 'W1: { cultivar: wherry, site: yard }', ''].join('\n'),
    'seasons/2025.yaml': seasonOf(2025, 0),
    'seasons/2026.yaml': seasonOf(2026, 4),
  };
}

async function stability(...args: string[]) {
  const { host, out, err } = memoryHost({ files: trial() });
  const status = await run(['stability', ...args], host);
  return { status, out: out(), err: err() };
}

test('JSON has the figures under the keys that scripts rest on', async () => {
  const { out, status } = await stability('--format', 'json');
  expect(status).toBe(EXIT.done);
  const report = JSON.parse(out) as {
    report: string;
    selection: Record<string, unknown>;
    columns: { key: string }[];
    rows: Record<string, unknown>[];
    notes: { kind: string; text: string }[];
  };
  expect(report.report).toBe('stability');
  expect(report.selection).toMatchObject({ of: 'productivity' });
  expect(report.columns.map(({ key }) => key)).toEqual([
    'cultivar',
    'crop',
    'environments',
    'mean',
    'slope',
    'slopeSe',
    'slopeLow',
    'slopeHigh',
    'shukla',
    'wricke',
    'alternation',
    'alternationPairs',
    'trees',
  ]);
  const row = (name: string) => report.rows.find((one) => one['cultivar'] === name);
  // Slate Quay swings most between sites, Amber Lantern least.
  expect(row('Slate Quay')?.['slope']).toBeGreaterThan(1);
  expect(row('Amber Lantern')?.['slope']).toBeLessThan(1);
  // (20 + 12 + 10 + 24 + 16 + 14) / 8 branches / 6 environments.
  expect(row('Amber Lantern')?.['mean']).toBeCloseTo(96 / 48, 12);
  // Loads 20 to 24, 12 to 16 and 10 to 14: the mean of 4/44, 4/28 and 4/24.
  expect(row('Amber Lantern')?.['alternation']).toBeCloseTo((4 / 44 + 4 / 28 + 4 / 24) / 3, 12);
  expect(row('Amber Lantern')).toMatchObject({ environments: 6, alternationPairs: 3, trees: 3 });
  // Two environments make no line.
  expect(row('Penny Wherry')).toMatchObject({
    environments: 2,
    slope: null,
    slopeSe: null,
    shukla: null,
    wricke: null,
  });
  expect(report.notes.map(({ text }) => text).join('\n')).toContain(
    'fewer than 3 seasons at sites: Penny Wherry',
  );
});

test('text says in plain words what a slope means, and fits the terminal', async () => {
  const { out } = await stability('--notes', 'all');
  expect(out).toContain('Slope above 1: gains more than others from good years');
  expect(out).toMatch(/young tree that bears more each year looks like\s+an alternating one/);
  for (const line of out.split('\n')) expect(line.length).toBeLessThanOrEqual(80);
});

test('with three environments it says that slopes are hints only', async () => {
  const { out } = await stability('--season', '2026', '--notes', 'all');
  expect(out).toContain('Every slope rests on 3 environments: hints only.');
});

test('what is not there is said, and what cannot be asked is refused', async () => {
  expect((await stability('--of', 'size')).out).toContain('Seasons');
  const wrong = await stability('--of', 'flavor');
  expect(wrong.status).toBe(EXIT.usage);
  expect(wrong.err).toContain('did you mean flavour?');
});
