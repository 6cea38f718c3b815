import { describe, expect, test } from 'vitest';
import { run } from '../src/cli/run.ts';
import { memoryHost } from './support/memory-host.ts';

/** The first summer of an orchard: apples, of which each tree bears one crop a year, and one taster. */
const files = {
  'ledger.yaml': `title: First summer
fruit: apple
traits: [sweetness, flavour]
tasters: { ann: Ann }
sites: { garden: { name: garden, cover: open } }
rank: { weights: { flavour: 1 } }
`,
  'cultivars.yaml': `a: { name: Alder Pippin, bears: main }
b: { name: Birch Russet, bears: main }
`,
  'trees.yaml': `A1: { cultivar: a, site: garden }
B1: { cultivar: b, site: garden }
`,
  'seasons/2026.yaml': `season: 2026
counts:
  - { on: 2026-08-01, tree: A1, crop: main, fruit: 12, branches: 5 }
picks:
  - { on: 2026-09-10, tree: A1, crop: main, weights: [140, 151] }
  - { on: 2026-09-10, tree: B1, crop: main, weights: [120] }
tastings:
  - on: 2026-09-12
    samples: [{ tree: A1, crop: main, ripeness: ripe }]
    scores: { ann: { A1: { sweetness: 8, flavour: 7 } } }
`,
};

/** The same with one tree alone. */
const alone = {
  ...files,
  'cultivars.yaml': 'a: { name: Alder Pippin, bears: main }\n',
  'trees.yaml': 'A1: { cultivar: a, site: garden }\n',
  'seasons/2026.yaml': files['seasons/2026.yaml'].replace(/.*tree: B1.*\n/, ''),
};

async function printed(...argv: readonly string[]): Promise<string> {
  return printedOf(files, ...argv);
}

async function printedOf(
  held: Readonly<Record<string, string>>,
  ...argv: readonly string[]
): Promise<string> {
  const world = memoryHost({ files: held, env: { COLUMNS: '80' } });
  expect(await run(argv, world.host)).toBe(0);
  return world.out().replace(/\s+/g, ' ');
}

describe('a ledger that holds little yet', () => {
  test('crops: a crop that no tree bore has no columns, nor is it missed', async () => {
    const text = await printed('crops');
    expect(text).toMatch(/^Fruit and weight, main crop, 2026 Cultivar/);
    expect(text).not.toMatch(/early|share of weight|expect no/i);
    const { rows } = JSON.parse(await printed('crops', '--format', 'json'));
    expect(rows[0]).toMatchObject({ earlyTrees: 0, mainShareOfWeight: 1 });
  });

  test('scores: nothing is said of letters where there are none', async () => {
    expect(await printed('scores')).not.toContain('share a letter');
  });

  test('stability: no column of slopes, and in one clause why', async () => {
    const text = await printed('stability');
    expect(text).not.toContain('Slope, 1');
    expect(text).toContain('No slope: main crop, that takes 3 seasons at sites.');
  });

  test('ripening: no temperatures are missed from a first day on, but altogether', async () => {
    expect(await printed('ripening')).toContain(
      'No degree-days for 2026: no temperatures from the beginning of the growing year.',
    );
  });

  test('figure ripening: a season that has only begun does not hide the one before', async () => {
    const begun = { ...files, 'seasons/2027.yaml': 'season: 2027\n' };
    expect(await printedOf(begun, 'figure', 'ripening')).toContain('Ripening calendar, 2026');
  });

  test('figure ranks: says what there is not', async () => {
    const world = memoryHost({ files: alone });
    expect(await run(['figure', 'ranks'], world.host)).toBe(2);
    expect(world.err()).toContain('nothing to draw: no cultivar can be ranked beside another');
  });

  test('day: one plate is put in no order', async () => {
    expect(await printed('day', '2026-09-12')).toMatch(/on the plate Marks/);
  });

  test('lineup: a single plate is worth no pairs, and is not put in order', async () => {
    const text = await printedOf(alone, 'lineup', '--on', '2026-09-12', '--candidates', 'a');
    expect(text).toContain('1 sample for 1 taster');
    expect(text).not.toMatch(/stand right|Williams|Best first/);
  });
});
