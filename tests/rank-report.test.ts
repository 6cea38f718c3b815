import { describe, expect, it } from 'vitest';
import { runJson } from './support/run-json.ts';

const KEYS = ['hob', 'bell', 'lamp', 'pip'];

/** Four gooseberries with 20 to 50 fruit on a branch of 4 to 7 g each, all tasted once. */
function gooseberries(bands: string): Record<string, string> {
  const lines = (line: (key: string, at: number) => string) => KEYS.map(line).join('\n');
  return {
    'ledger.yaml': `title: Gooseberries of the lane
fruit: gooseberry
traits: [flavour]
tasters: { mara: Mara, joss: Joss }
sites: { yard: { name: yard, cover: open } }
rank: { weights: { flavour: 3, productivity: 2, size: 1 }, bands: ${bands} }
`,
    'cultivars.yaml': lines((key) => `${key}: { name: ${key.toUpperCase()} Green, bears: main }`),
    'trees.yaml': lines((key, at) => `T${at}: { cultivar: ${key}, site: yard }`),
    'seasons/2026.yaml': `season: 2026
counts:
${lines((_, at) => `  - { on: 2026-06-20, tree: T${at}, crop: main, fruit: ${100 + 50 * at}, branches: 5 }`)}
picks:
${lines((_, at) => `  - { on: 2026-07-05, tree: T${at}, crop: main, fruit: 20, weight: ${80 + 20 * at} }`)}
tastings:
  - on: 2026-07-05
    samples:
${lines((_, at) => `      - { tree: T${at}, crop: main }`)}
    scores:
      mara: { T0: { flavour: 6 }, T1: { flavour: 7 }, T2: { flavour: 5 }, T3: { flavour: 8 } }
      joss: { T0: { flavour: 5 }, T1: { flavour: 7 }, T2: { flavour: 6 }, T3: { flavour: 7 } }
`,
  };
}

async function cautions(bands: string): Promise<readonly string[]> {
  const { notes } = await runJson(gooseberries(bands), 'rank');
  return notes.flatMap(({ kind, text }) =>
    kind === 'caution' && text.includes('band') ? [text] : [],
  );
}

describe('a band that all cultivars lie beyond', () => {
  it('is told with the rank, part by part', async () => {
    const found = await cautions('{ productivity: [[0, 1], [4, 10]], size: [[20, 1], [80, 10]] }');
    expect(found).toEqual([
      'Productivity tells hardly anything apart: in the main crop all 4 cultivars lie above the end of its band (4 fruit per branch) and are given 10. Set the band in ledger.yaml for your own fruit.',
      'Size tells hardly anything apart: in the main crop all 4 cultivars lie below the end of its band (20 g) and are given 1. Set the band in ledger.yaml for your own fruit.',
    ]);
  });

  it('is not where the band spans the fruit', async () => {
    const found = await cautions(
      '{ productivity: [[10, 1], [60, 10]], size: [["2 g", 1], ["0.3 oz", 10]] }',
    );
    expect(found).toEqual([]);
  });
});

it('a cultivar without a tree left is said to have none, and to want one', {
  timeout: 60_000,
}, async () => {
  const files = gooseberries('{ productivity: [[10, 1], [60, 10]], size: [[2, 1], [9, 10]] }');
  const trees = String(files['trees.yaml']).replace(
    'T0: { cultivar',
    'T0: { removed: 2026-10-01, cultivar',
  );
  const { rows } = await runJson({ ...files, 'trees.yaml': trees }, 'verdict');
  const told = rows.map(({ cultivar, why, wanted }) => [cultivar, why, wanted]);
  expect(told).toContainEqual([
    'HOB Green',
    '1 of 3 seasons, 1 of 4 tastings; no tree left',
    'a new tree; at least 2 more seasons and 3 more tastings',
  ]);
  expect(told).toContainEqual([
    'PIP Green',
    '1 of 3 seasons, 1 of 4 tastings',
    'at least 2 more seasons and 3 more tastings',
  ]);
});
