import { describe, expect, test } from 'vitest';
import { runOn } from './support/run-on.ts';

const FILES = {
  'ledger.yaml': `
title: Tidewrack Lane & Sons
fruit: fig
place: { latitude: 52.1 }
pollinator: absent
crops: { early: breba, main: main }
traits: [flavour]
sites:
  glass: { name: glasshouse, cover: glass }
  yard: { name: "south <wall>", cover: open }
  shed: { name: shed, cover: indoors }
`,
  'cultivars.yaml': `
amber: { name: Amber Lantern, bears: common }
ferry: { name: Ferry Bell, bears: san-pedro }
quay: { name: Slate Quay, bears: common }
`,
  'trees.yaml': `
Y1: { cultivar: amber, site: yard, container: ground }
G1: { cultivar: amber, site: glass, container: "20 L" }
G2: { cultivar: ferry, site: glass }
P1: { cultivar: quay, site: shed }
OLD: { cultivar: quay, site: yard, removed: 2026-08-10 }
NEW: { cultivar: quay, site: yard, planted: 2026-09 }
`,
  'seasons/2025.yaml': `
season: 2025
counts:
  - { on: 2025-07-05, tree: G1, crop: early, fruit: 9, branches: 5 }
  - { on: 2025-08-20, tree: G1, crop: main, fruit: 30, branches: 5 }
picks:
  - { on: 2025-07-25, tree: G1, crop: early, fruit: 9 }
  - { on: 2025-09-01, tree: G1, crop: main, fruit: 10 }
  - { on: 2025-09-20, tree: G1, crop: main, fruit: 20 }
growth:
  - { on: 2025-03-01, tree: G1, girth: 14.2 }
`,
  'seasons/2026.yaml': `
season: 2026
counts:
  - { on: 2026-07-04, tree: G1, crop: early, fruit: 8, branches: 6 }
  - { on: 2026-08-22, tree: G1, crop: main, fruit: 25, branches: 6 }
picks:
  - { on: 2026-09-03, tree: G1, crop: main, fruit: 25 }
events:
  - { on: 2026-05-10, tree: P1, kind: move, site: yard }
  - { on: 2026-07-10, site: glass, kind: spray, product: soap, wait_days: 3 }
  - { on: 2026-10-10, tree: P1, kind: move, site: shed }
`,
};

async function sheet(on: string, ...argv: readonly string[]): Promise<string> {
  const { exit, out, err } = await runOn(['sheet', '--on', on, ...argv], FILES, { columns: 80 });
  expect(err).toBe('');
  expect(exit).toBe(0);
  return out;
}

/** The blocks of a text sheet by the id of the tree. */
function blocks(text: string): Readonly<Record<string, string>> {
  const found = [...text.matchAll(/^([A-Z0-9]+) {2,}.*\n(?: .*\n)*/gm)];
  return Object.fromEntries(found.map(([block, id = '']) => [id, block]));
}

describe('which trees', () => {
  test('those that stand that day, by site and then in the order of the ledger', async () => {
    const text = await sheet('2026-08-25');
    expect(Object.keys(blocks(text))).toEqual(['G1', 'G2', 'Y1', 'P1']);
    expect(text.indexOf('glasshouse')).toBeLessThan(text.indexOf('G1'));
    expect(text.indexOf('south <wall>')).toBeLessThan(text.indexOf('Y1'));
    expect(text).not.toContain('shed');
  });

  test('until the day of removal, from the month of planting, where they moved to', async () => {
    expect(Object.keys(blocks(await sheet('2026-08-10')))).toContain('OLD');
    expect(Object.keys(blocks(await sheet('2026-08-11')))).not.toContain('OLD');
    expect(Object.keys(blocks(await sheet('2026-08-31')))).not.toContain('NEW');
    expect(Object.keys(blocks(await sheet('2026-09-01')))).toContain('NEW');
    expect(Object.keys(blocks(await sheet('2026-10-10', '--site', 'shed')))).toEqual(['P1']);
    expect(Object.keys(blocks(await sheet('2026-10-09', '--site', 'yard')))).toContain('P1');
  });

  test('at a site that is called by its name, as at one that is called by its key', async () => {
    const [byKey, byName] = [
      await sheet('2026-08-25', '--site', 'glass'),
      await sheet('2026-08-25', '--site', 'Glasshouse'),
    ];
    expect(byName).toBe(byKey);
  });

  test('none where none stands, and no site that is none', async () => {
    expect(await sheet('2026-08-25', '--site', 'shed')).toContain('No tree stands there');
    const wrong = await runOn(['sheet', '--site', 'yad'], FILES);
    expect(wrong.exit).toBe(2);
    expect(wrong.err).toContain('did you mean yard?');
  });
});

describe('what is due', () => {
  const due = async (on: string, tree: string) =>
    [
      ...(blocks(await sheet(on))[tree] ?? '').matchAll(/^ +(breba|main): (.*(?:\n +[^\n[]*$)*)/gm),
    ].map(([, crop, text = '']) => `${crop}: ${text.replace(/\s+/g, ' ')}`);

  test('a count of what the tree has borne or should bear and nobody counted', async () => {
    // Two weeks about the counts of 5 July and 20 August of the year before.
    expect(await due('2026-06-20', 'Y1')).toEqual([]);
    expect(await due('2026-06-21', 'Y1')).toEqual(['breba: Count fruit and branches.']);
    expect(await due('2026-08-06', 'P1')).toEqual(['main: Count fruit and branches.']);
    // A san-pedro fig keeps no main crop without a pollinator.
    expect(await due('2026-08-25', 'G2')).toEqual([]);
    expect(await due('2026-07-01', 'G2')).toEqual(['breba: Count fruit and branches.']);
  });

  test('no count once it was made, nor by what was entered for later', async () => {
    expect((await due('2026-07-03', 'G1')).join()).toContain('breba: Count');
    expect((await due('2026-07-04', 'G1')).join()).not.toContain('Count');
  });

  test('picking in the time of past years, seven days before and after', async () => {
    expect(await due('2026-08-24', 'G1')).toEqual([]);
    expect(await due('2026-08-25', 'G1')).toEqual([
      'main: Ripe? picked 1 Sep to 20 Sep in 2025. About 25 left.',
    ]);
    expect((await due('2026-09-27', 'Y1')).join()).toContain(
      'Ripe? others of its cultivar picked 1 Sep to 20 Sep in 2025.',
    );
    expect(await due('2026-09-28', 'Y1')).toEqual([]);
  });

  test('no picking where nothing is left', async () => {
    expect(await due('2026-09-02', 'G1')).toHaveLength(1);
    expect(await due('2026-09-03', 'G1')).toEqual([]);
  });

  test('a girth where one was taken in a season before', async () => {
    expect(blocks(await sheet('2026-08-25'))['G1']).toContain('girth cm [');
    expect(blocks(await sheet('2025-08-25'))['G1']).not.toContain('girth cm [');
    expect(blocks(await sheet('2026-08-25'))['Y1']).not.toContain('girth cm [');
  });
});

test('what is known up to that day', async () => {
  const { G1 = '', Y1 = '' } = blocks(await sheet('2026-08-21'));
  expect(G1).toContain('Amber Lantern, pot of 20 L');
  expect(G1).toContain('Counted 4 Jul 2026: breba 8 on 6 branches. Girth 14.2 cm, 1 Mar 2025.');
  expect(Y1).toContain('Amber Lantern, in the ground');
});

test('imperial ledgers measure in their own units', async () => {
  const files = { ...FILES, 'ledger.yaml': `${FILES['ledger.yaml']}units: imperial\n` };
  const { out } = await runOn(['sheet', '--on', '2026-08-25'], files);
  expect(out).toContain('Girth 14.2 in, 1 Mar 2025.');
  expect(out).toContain('oz each [');
  expect(out).toContain('girth in [');
});

describe('the waiting days of a spray', () => {
  const WORDS = 'Do not pick or taste until 13 July: soap, sprayed 10 July.';

  test('stand over the tree and take the boxes of a pick away', async () => {
    const { G1 = '', Y1 = '' } = blocks(await sheet('2026-07-12'));
    expect(G1.replace(/\s+/g, ' ')).toContain(WORDS.toUpperCase());
    expect(G1).not.toMatch(/picked \[|split \[/);
    expect(Y1).toMatch(/picked \[[\s\S]*split \[/);
  });

  test('end on the day that the label gives', async () => {
    expect(await sheet('2026-07-13')).not.toMatch(/until/i);
    expect(await sheet('2026-07-09')).not.toMatch(/until/i);
  });

  test.each(['markdown', 'html'])('stand in %s', async (format) => {
    const text = await sheet('2026-07-12', '--format', format);
    expect(text.split(WORDS)).toHaveLength(3);
  });
});

test.each(['text', 'markdown', 'html'])('cautions are told once, in %s', async (format) => {
  const text = await sheet('2026-08-25', '--format', format);
  for (const word of ['Ladder', 'Fig sap', 'Sprayed trees', 'mouldy or soured']) {
    expect(text.split(word), word).toHaveLength(2);
  }
  const plums = {
    ...FILES,
    'ledger.yaml': FILES['ledger.yaml'].replace('fruit: fig', 'fruit: plum'),
  };
  expect((await runOn(['sheet', '--format', format], plums)).out).not.toContain('sap');
});

test.each([40, 80, 132])('text fits %s columns', async (columns) => {
  for (const on of ['2026-07-12', '2026-08-25']) {
    const { out } = await runOn(['sheet', '--on', on], FILES, { columns });
    expect(Math.max(...out.split('\n').map((line) => line.length))).toBeLessThanOrEqual(columns);
  }
});

test('the tables of Markdown have the same cells in every row', async () => {
  const text = await sheet('2026-08-25', '--format', 'markdown');
  const rows = text.split('\n').filter((line) => line.startsWith('|'));
  expect(rows.length).toBe(2 * 2 + 4);
  for (const row of rows) expect(row.match(/\|/g)).toHaveLength(15);
  expect(text).toContain('## south &lt;wall&gt;');
});

describe('the page to print', () => {
  test('is A4, a site a page, with the head again on each page, and safe', async () => {
    const html = await sheet('2026-08-25', '--format', 'html');
    expect(html).toMatch(/@page \{\s*size: A4 landscape/);
    expect(html).toMatch(/section \+ section \{\s*break-before: page/);
    expect(html.match(/<table class="form">\n<colgroup>[\s\S]*?<thead>/g)).toHaveLength(2);
    expect(html.match(/<\/section>\n<section>\n<table class="form">/g)).toHaveLength(1);
    expect(html).not.toContain('<wall>');
    expect(html).not.toMatch(/<script|https?:/);
    expect(html).toContain('Tidewrack Lane &#38; Sons');
  });

  test.each(['2026-08-25', '2026-07-12'])('every row has every column, %s', async (on) => {
    const html = await sheet(on, '--format', 'html');
    const width = html.split('</colgroup>')[0]?.match(/<col /g)?.length ?? 0;
    for (const [, body = ''] of html.matchAll(/<tbody>([\s\S]*?)<\/tbody>/g)) {
      const rows = body.split('<tr>').slice(1);
      let carried = 0;
      for (const row of rows) {
        const cells = [...row.matchAll(/<t[hd](?: [^>]*)?>/g)].map(([tag]) => ({
          wide: Number(/colspan="(\d+)"/.exec(tag)?.[1] ?? 1),
          down: Number(/rowspan="(\d+)"/.exec(tag)?.[1] ?? 1),
        }));
        const own = cells.reduce((sum, { wide }) => sum + wide, 0);
        expect(own + carried).toBe(width);
        if (row === rows[0]) {
          const deep = cells.filter(({ down }) => down > 1);
          expect(deep.every(({ down }) => down === rows.length)).toBe(true);
          carried = deep.reduce((sum, { wide }) => sum + wide, 0);
        }
      }
    }
  });
});

test('the form goes by the file, and today is the day', async () => {
  const made = async (name: string) => {
    const { out, files } = await runOn(['sheet', '--output', name], FILES);
    expect(out).toBe('');
    return files[name] ?? '';
  };
  expect(await made('a.html')).toMatch(/^<!doctype html>[\s\S]*Field sheet for 1 November 2026/);
  expect(await made('a.md')).toMatch(/^# Field sheet for 1 November 2026\n/);
  expect(await made('a.txt')).toMatch(/^Field sheet for 1 November 2026\n/);
});

test('south of the equator a day belongs to the season that began in July', async () => {
  const files = {
    ...FILES,
    'seasons/2025.yaml': 'season: 2025\n',
    'seasons/2026.yaml': 'season: 2026\n',
  };
  const south = { ...files, 'ledger.yaml': FILES['ledger.yaml'].replace('52.1', '-41') };
  const { exit, out } = await runOn(['sheet', '--on', '2026-11-01'], south);
  expect(exit).toBe(0);
  expect(out).toContain('seasons/2027.yaml');
  const pick = 'season: 2026\npicks:\n  - { on: 2025-12-20, tree: G1, crop: early, fruit: 2 }\n';
  const picked = await runOn(['sheet', '--on', '2026-12-20'], {
    ...south,
    'seasons/2026.yaml': pick,
  });
  expect(picked.out).toContain('Ripe? picked 20 Dec in season 2026.');
});

test('a day that is none is refused in words', async () => {
  const { exit, err } = await runOn(['sheet', '--on', '2026-02-30'], FILES);
  expect(exit).toBe(2);
  expect(err).toContain('write a date as');
});

test('for programs it has each tree with what is known and due, null where nothing is', async () => {
  const told = JSON.parse(await sheet('2026-07-10', '--format', 'json'));
  expect(told).toMatchObject({
    report: 'sheet',
    ledger: { title: 'Tidewrack Lane & Sons' },
    selection: { on: '2026-07-10', site: ['glass', 'yard'] },
    file: 'seasons/2026.yaml',
    weightUnit: 'g',
  });
  const [glass, yard] = told.sites;
  expect(glass.trees.map(({ tree }: { tree: string }) => tree)).toEqual(['G1', 'G2']);
  expect(glass.trees[0]).toMatchObject({
    cultivar: 'Amber Lantern',
    stands: 'pot of 20 L',
    wait: 'Do not pick or taste until 13 July: soap, sprayed 10 July.',
    girthDue: 'cm',
  });
  expect(yard.trees[0]).toMatchObject({ tree: 'Y1', wait: null, girthDue: null, known: [] });
  expect(told.notes.map(({ kind }: { kind: string }) => kind)).toContain('caution');
  const { files } = await runOn(['sheet', '--on', '2026-07-10', '--output', 'a.json'], FILES);
  expect(JSON.parse(files['a.json'] ?? '')).toEqual(told);
});
