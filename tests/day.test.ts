import { describe, expect, test } from 'vitest';
import { run } from '../src/cli/run.ts';
import { displayWidth } from '../src/source/display-width.ts';
import { exampleFiles } from './support/example-files.ts';
import { memoryHost } from './support/memory-host.ts';
import { readMarkup } from './support/strict-markup.ts';

const TRIAL = {
  'ledger.yaml': `title: Pear wall
place: { name: Back lane }
fruit: fig
crops: { early: breba, main: autumn }
traits: [flavour, texture]
tasters: { ann: Ann, ben: Ben, cay: Cay }
sites: { wall: { name: south wall, cover: open }, tent: { name: tunnel, cover: tunnel } }
words: [melon]
`,
  'cultivars.yaml': `alder: { name: Alder, bears: common }
birch: { name: Birch, bears: common }
cedar: { name: Cedar, bears: common }
`,
  'trees.yaml': `A1: { cultivar: alder, site: wall, planted: 2019, container: ground }
A2: { cultivar: alder, site: tent, container: "20 L" }
B1: { cultivar: birch, site: wall }
C1: { cultivar: cedar, site: wall }
`,
};

const LAST_YEAR = `season: 2025
picks:
  - { on: 2025-08-01, tree: A1, crop: early, weights: [50, 60] }
  - { on: 2025-08-01, tree: A2, crop: early, weights: [90] }
  - { on: 2025-08-01, tree: C1, crop: early, fruit: 2 }
`;

const THIS_YEAR = `season: 2026
counts:
  - { on: 2026-07-10, tree: A1, crop: early, fruit: 12, branches: 5 }
  - { on: 2026-07-10, tree: B1, crop: early, fruit: 4 }
  - { on: 2026-07-10, tree: C1, crop: early, fruit: 3, branches: 4 }
picks:
  - { on: 2026-07-20, tree: A1, crop: early, weights: [60, 61, 80], split: 1, note: after the rain }
  - { on: 2026-07-20, tree: A2, crop: early, fruit: 2, weight: 150 }
  - { on: 2026-07-20, tree: C1, crop: early, weights: [99], sample: best }
  - { on: 2026-08-20, tree: B1, crop: main, weights: [40] }
tastings:
  - on: 2026-07-20
    samples:
      - { tree: A1, crop: early, ripeness: ripe, brix: 15, eye: 3 }
      - { tree: B1, crop: early }
      - { tree: C1, crop: early, ripeness: under }
    scores:
      ann: { A1: { flavour: 8, texture: 6 }, B1: { flavour: 5, texture: 6 }, C1: { flavour: 2 } }
      ben: { A1: { flavour: 7 }, B1: { flavour: 6 } }
    order:
      ann: [C1, A1, B1]
    words:
      ann: { A1: [Melon, fresh] }
      ben: { A1: [melon] }
`;

const files = (season = THIS_YEAR) => ({
  ...TRIAL,
  'seasons/2025.yaml': LAST_YEAR,
  'seasons/2026.yaml': season,
});

async function ran(argv: readonly string[], season?: string) {
  const world = memoryHost({ files: files(season), env: { COLUMNS: '80' } });
  const status = await run(['day', ...argv], world.host);
  return { status, out: world.out(), err: world.err() };
}

async function told(season: string | undefined, ...argv: readonly string[]) {
  const { status, out, err } = await ran([...argv, '--format', 'json'], season);
  expect(err).toBe('');
  expect(status).toBe(0);
  return JSON.parse(out);
}

/** A season with one sitting of plates, all ripe, and the orders or scores given. */
const sitting = (rest: string) => `season: 2026
tastings:
  - on: 2026-07-20
    samples: [{ tree: A1, crop: early }, { tree: B1, crop: early }, { tree: C1, crop: early }]
${rest}`;

describe('a day for programs', () => {
  test('has each plate with what was picked, beside other years at the same site', async () => {
    const { sections } = await told(undefined, '2026-07-20');
    const [alder, birch, cedar, tent] = sections.early.plates;
    expect(alder).toMatchObject({
      ...{ tree: 'A1', cultivar: 'Alder', site: 'wall', place: 1, picked: 3 },
      ...{ meanWeight: 67, lightest: 60, heaviest: 80 },
      ...{ usualWeight: 55, usualFrom: { where: 'here', seasons: [2025] } },
      ...{ ripeness: 'ripe', brix: 15, eye: 3, scores: { flavour: 7.5, texture: 6 } },
      ...{ fruitPerBranch: 2.4, left: 9, notes: ['after the rain'] },
    });
    expect(alder.defects).toEqual({ split: 1, bird: 0, insect: 0, animal: 0, mould: 0, unripe: 0 });
    expect(alder.words).toEqual([
      { word: 'melon', tasters: ['Ann', 'Ben'] },
      { word: 'fresh', tasters: ['Ann'] },
    ]);
    // What was weighed is told only where it was; branches were not counted.
    expect(birch).toMatchObject({ tree: 'B1', place: 2, picked: null, usualWeight: null });
    expect(birch).toMatchObject({ fruitPerBranch: null, left: 4 });
    // The best fruit tell nothing of the mean.
    expect(cedar).toMatchObject({ tree: 'C1', picked: 1, meanWeight: null });
    expect(tent).toMatchObject({ tree: 'A2', meanWeight: 75, usualWeight: 90, place: null });
    expect(tent.ripeness).toBeNull();
  });

  test('underripe fruit is marked and has no place, though a taster had it first', async () => {
    const { early } = (await told(undefined, '2026-07-20')).sections;
    expect(early.plates[2]).toMatchObject({ tree: 'C1', ripeness: 'under', place: null });
    expect(early.plates[0].firstFor).toEqual(['Ann', 'Ben']);
    expect(early.tasters).toBe(2);
    // Two tasters agree on two plates in one of two ways.
    expect(early.agreement).toEqual({ tasters: 2, plates: 2, w: 1, chance: 0.5 });
  });

  test('early and main crop stand apart', async () => {
    const { sections } = await told(undefined, '2026-08-20');
    expect(Object.keys(sections)).toEqual(['sitting', 'main', 'hanging']);
    expect(sections.main.plates).toMatchObject([{ tree: 'B1', meanWeight: 40, place: null }]);
  });

  test('nothing hangs on a tree that was taken out', async () => {
    const removed = TRIAL['trees.yaml'].replace('planted: 2019,', 'removed: 2026-08-01,');
    const hanging = async (trees: string) => {
      const world = memoryHost({ files: { ...files(), 'trees.yaml': trees } });
      expect(await run(['day', '2026-08-20', '--format', 'json'], world.host)).toBe(0);
      return JSON.stringify(JSON.parse(world.out()).sections.hanging);
    };
    expect(await hanging(TRIAL['trees.yaml'])).toContain('"tree":"A1"');
    expect(await hanging(removed)).not.toContain('"tree":"A1"');
    expect(await hanging(removed)).toContain('"tree":"B1"');
  });

  test('plates that come out level share a place', async () => {
    const season = sitting(`    order:
      ann: [A1, B1, C1]
      ben: [B1, A1, C1]
`);
    const { early } = (await told(season)).sections;
    expect(
      early.plates.map(({ tree, place }: { tree: string; place: number }) => [tree, place]),
    ).toEqual([
      ['A1', 1],
      ['B1', 1],
      ['C1', 3],
    ]);
    const { out } = await ran([], season);
    expect(out).toContain('Best first: Alder and Birch level, Cedar.');
  });

  test('ties within an order count half for each', async () => {
    const season = sitting(`    order:
      ann: [[A1, B1], C1]
      ben: [B1, [A1, C1]]
`);
    const { early } = (await told(season)).sections;
    // Shares of the table: A1 (1/3 + 2/3) / 2, B1 (1/3 + 1/6) / 2, C1 (5/6 + 2/3) / 2.
    const places = early.plates.map((one: { tree: string; place: number }) => one.tree);
    expect(places).toEqual(['B1', 'A1', 'C1']);
    expect((await ran([], season)).out).toMatch(
      /First for Ben; level with another for first for Ann\./,
    );
  });

  test('tasters may stay unnamed', async () => {
    const day = await told(undefined, '2026-07-20', '--no-names');
    expect(day.sections.sitting).toMatchObject({ tasters: 2, names: null });
    expect(day.sections.early.plates[0].words[0]).toEqual({ word: 'melon', tasters: 2 });
    for (const format of ['text', 'markdown', 'html', 'json']) {
      const { out } = await ran(['2026-07-20', '--no-names', '--format', format]);
      expect(out).not.toMatch(/\b(Ann|Ben)\b/);
    }
  });
});

describe('whether the order can be told from chance', () => {
  test.each([
    ['one taster', '    order: { ann: [A1, B1, C1] }\n', 'One taster, so there is nobody'],
    [
      'two who agree on three plates: 1 of 6 ways',
      '    order: { ann: [A1, B1, C1], ben: [A1, B1, C1] }\n',
      'The two tasters agreed, but with so few plates and tasters chance alone would do as much 1 time in 6.',
    ],
    [
      'three who agree on three plates: 1 of 36 ways',
      '    order: { ann: [A1, B1, C1], ben: [A1, B1, C1], cay: [A1, B1, C1] }\n',
      'The 3 tasters agreed well: chance alone would do as much 1 time in 36.',
    ],
    [
      'three who do not agree',
      '    order: { ann: [A1, B1, C1], ben: [B1, C1, A1], cay: [C1, A1, B1] }\n',
      'The 3 tasters did not clearly agree: chance alone would do as much more often than not.',
    ],
    ['nobody at all', '', 'Nobody put them in order.'],
  ])('%s', async (_, rest, words) => {
    const { out, status } = await ran([], sitting(rest));
    expect(status).toBe(0);
    expect(out.replace(/\s+/g, ' ')).toContain(words);
  });

  test('a single plate has no order', async () => {
    const season = `season: 2026
tastings:
  - on: 2026-07-20
    samples: [{ tree: A1, crop: early }]
    scores: { ann: { A1: { flavour: 8 } } }
`;
    const { out } = await ran([], season);
    expect(out).not.toMatch(/Best first|order/);
    expect(out).toMatch(/Alder +8\.0/);
  });
});

describe('which day', () => {
  test('the last one with a pick or a sitting, if none is asked for', async () => {
    expect((await told(undefined)).selection.on).toBe('2026-08-20');
    const { out } = await ran([]);
    expect(out).toMatch(/^20 August 2026, Back lane\n/);
    expect(out).toContain('Picked, and nothing tasted.');
  });

  test.each([
    [
      '2026-07-21',
      /nothing was picked or tasted on 2026-07-21; the nearest days are 2026-07-20 and 2026-08-20/,
    ],
    ['2024-01-01', /the nearest day is 2025-08-01/],
    ['2026-02-30', /2026-02-30: write the day as YYYY-MM-DD/],
    ['yesterday', /write the day as YYYY-MM-DD, as 2026-08-20/],
    ['\u001b[31m', /write the day as YYYY-MM-DD/],
  ])('%j is refused in words', async (date, words) => {
    const { status, out, err } = await ran([date]);
    expect(status).toBe(2);
    expect(out).toBe('');
    expect(err).toMatch(words);
    expect(err).not.toContain('\u001b');
  });

  test('a ledger without picks and sittings says so', async () => {
    const world = memoryHost({ files: TRIAL });
    expect(await run(['day'], world.host)).toBe(2);
    expect(world.err()).toContain('nothing was picked or tasted yet');
  });
});

describe('south of the equator', () => {
  test('a day in January belongs to the season that ends in that year', async () => {
    const south = {
      ...TRIAL,
      'ledger.yaml': TRIAL['ledger.yaml'].replace('{ name: Back lane }', '{ latitude: -38 }'),
      'seasons/2026.yaml': `season: 2026
picks:
  - { on: 2025-12-30, tree: A1, crop: early, weights: [60] }
  - { on: 2026-01-03, tree: A1, crop: early, weights: [50] }
`,
      'seasons/2025.yaml': `season: 2025
picks: [{ on: 2025-01-03, tree: A1, crop: early, weights: [40] }]
`,
    };
    const world = memoryHost({ files: south });
    expect(await run(['day', '2025-12-30', '--format', 'json'], world.host)).toBe(0);
    const [plate] = JSON.parse(world.out()).sections.early.plates;
    expect(plate).toMatchObject({
      meanWeight: 60,
      usualWeight: 40,
      usualFrom: { seasons: [2025] },
    });
  });
});

describe('a day for people', () => {
  test('says of each plate what it weighed, and what spoiled, beside other years', async () => {
    const { out } = await ran(['2026-07-20']);
    expect(out).toContain('3 picked, 67 g each (60 to 80); 55 g in other years. 1 split.');
    expect(out).toContain('Melon (Ann and Ben), fresh (Ann).');
    expect(out).toContain('2.4 fruit to a branch; about 9 still hanging.');
    expect(out).toMatch(/^Alder {2,}A1, south wall, ripe$/m);
    expect(out).toMatch(/^Cedar {2,}C1, south wall, underripe$/m);
    expect(out.replace(/\s+/g, ' ')).toContain('Cedar was underripe and does not count.');
    expect(out.replace(/\s+/g, ' ')).toContain(
      'A2, tunnel: 2 picked, 75 g each; 90 g in other years.',
    );
    expect(out).toContain('Caution: Fig sap');
  });

  test('warns of mould and of sprays, once and only where they apply', async () => {
    const sprayed = THIS_YEAR.replace('split: 1', 'mould: 1').concat(
      'events: [{ on: 2026-07-20, tree: A1, kind: spray, product: soap, wait_days: 5, after: picks }]\n',
    );
    const text = (await ran(['2026-07-20'], sprayed)).out.replace(/\s+/g, ' ');
    expect(text).toContain('do not taste mouldy or soured fruit');
    expect(text).toContain('A1 was sprayed with soap on 20 July: not to be eaten before 25 July');
    const { out } = await ran(['2026-07-20']);
    expect(out).not.toMatch(/mouldy|sprayed/);
  });

  test('warns of plates of different sites in one order, not of those of one', async () => {
    const mixed = `season: 2026
tastings:
  - on: 2026-07-20
    samples: [{ tree: A2, crop: early }, { tree: B1, crop: early }]
    order: { ann: [A2, B1] }
`;
    const words = 'came from tunnel and south wall: what tells it apart may be the site';
    expect((await ran([], mixed)).out.replace(/\s+/g, ' ')).toContain(words);
    expect((await ran(['2026-07-20'])).out).not.toContain('may be the site');
  });

  test('leaves out Brix and eye before any mark where it is narrow', async () => {
    const world = memoryHost({ files: files(), env: { COLUMNS: '44' } });
    await run(['day', '2026-07-20'], world.host);
    expect(world.out()).toMatch(/^Place {2}Cultivar +Flavour {2}Texture$/m);
    expect(world.out()).toContain('Left out for lack of width: Brix, Eye (mm).');
  });

  test.each([40, 80, 120])('keeps to %i columns', async (columns) => {
    const world = memoryHost({ files: files(), env: { COLUMNS: String(columns) } });
    await run(['day', '2026-07-20'], world.host);
    for (const line of world.out().split('\n')) {
      expect(displayWidth(line)).toBeLessThanOrEqual(columns);
    }
  });

  test('is sound HTML and Markdown with the same sentences', async () => {
    const html = (await ran(['2026-07-20', '--format', 'html'])).out;
    const headings = readMarkup(html).filter(({ name }) => /^h[1-3]$/.test(name));
    expect(headings.map(({ text }) => text)).toEqual([
      '20 July 2026, Back lane',
      'Early crop (breba), 3 on the plate',
      ...['Alder', 'Birch', 'Cedar', 'Picked too'],
    ]);
    const markdown = (await ran(['2026-07-20', '--format', 'markdown'])).out;
    expect(markdown).toContain('#### Alder\n\nA1, south wall, ripe\n\n3 picked, 67 g each');
    expect(markdown).toContain('| 1 | Alder | 7.5 | 6.0 | 15.0 | 3.0 |');
  });
});

describe('figure day', () => {
  const drawn = async (...argv: readonly string[]) => {
    const world = memoryHost({ files: files() });
    const status = await run(['figure', ...argv], world.host);
    return { status, out: world.out(), err: world.err() };
  };

  test('tells in words all that it draws', async () => {
    const { out } = await drawn('day', '2026-07-20');
    const [, title, told] = readMarkup(out);
    expect(title?.text).toContain('Picked and tasted on 20 July 2026.');
    expect(title?.text).toContain('marks: best first Alder (A1) and Birch.');
    // Ann 8 and 6, Ben 7; the other plate of Alder was not tasted.
    expect(told?.text).toContain('Alder (A1) 7.0 (tasters 7.0, 7.0)');
    expect(told?.text).toContain('Cedar 2.0 (tasters 2.0), underripe');
    expect(told?.text).toContain('Alder (A2) 75.0 g (other years 90.0)');
  });

  test('fills a screen, and takes the last day if none is named', async () => {
    const { out } = await drawn('day', '--size', '1920x1080');
    expect(out).toContain('width="1920" height="1080"');
    expect(out).toContain('20 August 2026');
  });

  test.each([
    [['day', '2026-07-21'], /nothing was picked or tasted on 2026-07-21/],
    [['day', '--size', '1920'], /write width and height in pixels, as 1920x1080/],
    [['day', '--size', '1920x10'], /each from 300 to 10000/],
    [['day', '--size', '9000x400'], /no strip/],
    [['cultivar', 'Alder Fig'], /as in figure cultivar --cultivar "Alder Fig"/],
    [
      ['ranks', '2026-07-20'],
      /nothing comes after figure ranks but options; a day goes with figure day/,
    ],
  ])('%j is refused', async (argv, words) => {
    const { status, out, err } = await drawn(...argv);
    expect([status, out]).toEqual([2, '']);
    expect(err).toMatch(words);
  });
});

test('the day of the example names who came first, and where it stood and stands', async () => {
  const world = memoryHost({ files: exampleFiles(), env: { COLUMNS: '80' } });
  expect(await run(['day', '2026-07-29'], world.host)).toBe(0);
  const text = world.out();
  expect(text).toContain('Best first: Ferry Bell, Tidewrack Brown.');
  // Four tasters and two ripe plates: all the same way round in 2 of 16.
  expect(text.replace(/\s+/g, ' ')).toContain('chance alone would do as much 1 time in 8');
  expect(text).toContain('Amber Lantern, overripe');
  expect(text).toMatch(/\d+(st|nd|rd|th) of \d+ last year, \d+(st|nd|rd|th) of \d+ now/);
  expect(text.split('\n').length).toBeLessThan(60);
});
