import { parse } from 'csv-parse/sync';
import { describe, expect, test } from 'vitest';
import { TABLE_NAMES } from '../src/cli/table-names.ts';
import { exportTables } from '../src/report/export/export-tables.ts';
import { ledgerFrom } from './support/ledger-from.ts';
import { runOn } from './support/run-on.ts';

/** A ledger with everything an entry can have, and text that spreadsheets would run or trip over. */
const FILES = {
  'ledger.yaml': `
title: Tidewrack Lane
fruit: fig
traits: [sweetness, flavour]
tasters: { mara: Mara, joss: "Joss, the younger" }
sites: { glass: { name: glasshouse, cover: glass }, yard: { name: "=south wall", cover: open } }
frost: { 2026: 2026-10-29, 2024: 2024-11-03 }
`,
  'cultivars.yaml': `
amber: { name: Amber Lantern, bears: common, also: [Lantern Yellow, "-Gold"], protected: true }
old-wall: { name: "Old \\"Wall\\"", bears: common, perhaps: { same_as: amber, why: same leaf }, protected: false }
quay: { name: Slate Quay, bears: san-pedro, note: "two\\nlines, and a comma" }
`,
  'trees.yaml': `
"007": { cultivar: amber, site: glass, container: ground, planted: 2019-04, received_as: "@Lantern" }
Y1: { cultivar: old-wall, site: yard, container: "20 L", from: Harrow's End, received: 2020 }
Y2: { cultivar: quay, site: yard, removed: 2026-12-01 }
`,
  'seasons/2025.yaml': `
season: 2025
picks:
  - { on: 2025-09-02, tree: Y1, crop: main, fruit: 3, weights: [40.5, 41], sample: random }
`,
  'seasons/2026.yaml': `
season: 2026
counts:
  - { on: 2026-07-02, tree: "007", crop: early, fruit: 21, branches: 8, note: "=1+1" }
  - { on: 2026-07-02, tree: Y1, crop: early, fruit: 0 }
picks:
  - { on: 2026-07-24, tree: "007", crop: early, weights: [52.4, 47, "2 oz"], split: 1, photo: p/a.jpg }
  - { on: 2026-07-29, tree: "007", crop: early, fruit: 11, weight: 580, bird: 2, mould: 1 }
  - { on: 2026-08-02, tree: Y1, crop: early, fruit: 2 }
drops:
  - { on: 2026-07-20, tree: "007", crop: early, fruit: 2, note: "+ wasps" }
tastings:
  - on: 2026-07-24
    note: rain
    samples:
      - { tree: "007", crop: early, ripeness: ripe, brix: 19.5, eye: 3 }
      - { tree: Y1, crop: early, as: "417" }
      - { tree: Y2, crop: early, as: "=9", ripeness: under }
    scores:
      mara: { "007": { sweetness: 8, flavour: 9.25 }, "417": { sweetness: 5 } }
    words:
      mara: { "007": [melon, "=honey"], "417": ["sea, salt"] }
    order:
      joss: [["007", "417"], "=9"]
growth:
  - { on: 2026-03-01, tree: "007", girth: 14.2, height: 180 }
events:
  - { on: 2026-05-10, tree: Y1, kind: move, site: glass }
  - { on: 2026-07-10, site: glass, kind: spray, product: soap, wait_days: 3 }
  - { on: 2026-07-11, kind: frost, low: -1.2 }
  - { on: 2026-03-14, tree: Y2, kind: repot, container: "1 US gal" }
  - { on: 2026-03-15, tree: Y2, kind: winter-damage, dieback: 6 }
  - { on: 2026-03-16, kind: water }
`,
  'weather/2026.csv': 'date,tmin,tmax,rain\n2026-01-01,-4.4,8.2,0.0\n2026-01-02,,9.0,1.4\n',
};

const ledger = ledgerFrom(FILES);

async function exported(table: string, format: 'csv' | 'jsonl' = 'csv') {
  const { exit, out } = await runOn(['export', '--table', table, '--format', format], FILES);
  expect(exit).toBe(0);
  return out;
}

/** A table as csv-parse, a reader that knows nothing of pomary, reads it. */
async function readBack(table: string): Promise<Readonly<Record<string, string>>[]> {
  return parse(await exported(table), { columns: true, relax_column_count: false }) as Readonly<
    Record<string, string>
  >[];
}

test('the names of the command line are the tables', () => {
  expect(TABLE_NAMES, 'src/cli/table-names.ts').toEqual(exportTables.map(({ name }) => name));
});

describe.each(exportTables)('$name', (table) => {
  const rows = table.rows(ledger);

  test('has rows to test, and the same keys in each', () => {
    expect(rows.length).toBeGreaterThan(0);
    const keys = table.columns.map(({ key }) => key);
    expect(new Set(keys).size).toBe(keys.length);
    for (const row of rows) expect(Object.keys(row)).toEqual(keys);
  });

  test('every value reads back from CSV', async () => {
    const read = await readBack(table.name);
    expect(read).toHaveLength(rows.length);
    for (const [index, row] of rows.entries()) {
      for (const { key } of table.columns)
        expect(meant(read[index]?.[key], row[key])).toBe(row[key]);
    }
  });

  test('every value reads back from JSON Lines', async () => {
    const lines = (await exported(table.name, 'jsonl')).trimEnd().split('\n');
    expect(lines.map((line) => JSON.parse(line))).toEqual(rows);
  });

  test('values are of the kind that the column says', () => {
    const types = {
      text: 'string',
      date: 'string',
      integer: 'number',
      number: 'number',
      boolean: 'boolean',
    };
    for (const { key, kind } of table.columns) {
      for (const value of rows.map((row) => row[key]).filter((one) => one !== null)) {
        expect(typeof value, key).toBe(types[kind]);
        if (kind === 'integer') expect(Number.isInteger(value), key).toBe(true);
        if (kind === 'date') expect(value).toMatch(/^\d{4}-\d\d-\d\d$/);
      }
    }
  });

  test('what it refers to is there, once', () => {
    for (const { key, refersTo } of table.columns) {
      if (refersTo === undefined) continue;
      const [name, column = ''] = refersTo.split('.');
      const others = exportTables.find((one) => one.name === name)?.rows(ledger) ?? [];
      const known = others.map((row) => row[column]);
      expect(new Set(known).size, refersTo).toBe(known.length);
      for (const row of rows) if (row[key] !== null) expect(known, `${key}`).toContain(row[key]);
    }
  });
});

/** A field of CSV as the value that it stands for, by the type of what was written. */
function meant(field: string | undefined, like: unknown) {
  if (like === null) return field === '' ? null : field;
  if (typeof like === 'number') return Number(field);
  if (typeof like === 'boolean') return field === 'TRUE';
  // Text that a spreadsheet would run has an apostrophe in front.
  return /^[=+\-@]/.test(String(like)) ? field?.replace(/^'/, '') : field;
}

test('observations are told one a row, converted and joined', async () => {
  expect(await readBack('weights')).toMatchObject([
    { entry: 'pick-2025-1', fruit: '1', weight: '40.5', sampled: 'random' },
    { entry: 'pick-2025-1', fruit: '2', weight: '41' },
    {
      entry: 'pick-2026-1',
      fruit: '1',
      weight: '52.4',
      tree: '007',
      cultivar: 'amber',
      site: 'glass',
    },
    { entry: 'pick-2026-1', fruit: '2', weight: '47' },
    // 2 oz of 28.349523125 g (International yard and pound agreement 1959).
    { entry: 'pick-2026-1', fruit: '3', weight: '56.69904625' },
  ]);
  expect(await readBack('picks')).toMatchObject([
    { entry: 'pick-2025-1', fruit: '3', totalWeight: '122.25', totalFrom: 'stretched', sound: '3' },
    { entry: 'pick-2026-1', weightTogether: '', totalFrom: 'singly', split: '1', sound: '2' },
    { entry: 'pick-2026-2', weightTogether: '580', totalFrom: 'together', sound: '8' },
    { entry: 'pick-2026-3', totalWeight: '', totalFrom: 'unknown', site: 'glass' },
  ]);
  expect(await readBack('orders')).toMatchObject([
    { sample: 'sample-2026-1-1', taster: 'joss', place: '1', orderSize: '3' },
    { sample: 'sample-2026-1-2', taster: 'joss', place: '1' },
    { sample: 'sample-2026-1-3', taster: 'joss', place: '3' },
  ]);
  expect(await readBack('scores')).toMatchObject([
    { sample: 'sample-2026-1-1', taster: 'mara', trait: 'sweetness', score: '8' },
    { sample: 'sample-2026-1-1', trait: 'flavour', score: '9.25' },
    { sample: 'sample-2026-1-2', tree: 'Y1', trait: 'sweetness', score: '5' },
  ]);
  expect(await readBack('events')).toMatchObject([
    { kind: 'repot', container: 'pot', potVolume: '3.785411784' },
    { kind: 'winter-damage', dieback: '6' },
    { kind: 'water', product: '' },
    { target: 'tree', tree: 'Y1', kind: 'move', movedTo: 'glass', site: '' },
    { target: 'site', site: 'glass', product: 'soap', waitDays: '3', clearOn: '2026-07-13' },
    { target: 'trial', kind: 'frost', low: '-1.2' },
  ]);
});

test('figures are those of the reports', async () => {
  const rows = await readBack('figures');
  expect(rows).toMatchObject([
    { season: '2025', tree: 'Y1', crop: 'main', load: '3', counted: 'FALSE', branches: '' },
    {
      season: '2026',
      tree: '007',
      crop: 'early',
      load: '21',
      branches: '8',
      fruitPerBranch: '2.625',
    },
    { season: '2026', tree: 'Y1', crop: 'early', picked: '2', pickedWeight: '', meanWeight: '' },
  ]);
  const report = await runOn(['yield', '--by', 'tree,season', '--format', 'json'], FILES);
  const { rows: told } = JSON.parse(report.out) as { rows: Record<string, unknown>[] };
  for (const row of rows) {
    const same = told.find((one) => one['tree'] === row['tree'] && one['season'] === row['season']);
    for (const key of [
      'load',
      'branches',
      'fruitPerBranch',
      'picked',
      'pickedWeight',
      'trunkArea',
    ]) {
      expect(row[key], key).toBe(String(same?.[key] ?? ''));
    }
  }
});

test('text that a spreadsheet would run is defused in CSV and left alone in JSON Lines', async () => {
  expect((await readBack('counts'))[0]?.['note']).toBe("'=1+1");
  expect((await readBack('drops'))[0]?.['note']).toBe("'+ wasps");
  expect((await readBack('events'))[5]?.['low']).toBe('-1.2');
  expect(JSON.parse((await exported('counts', 'jsonl')).split('\n')[0] ?? '')).toMatchObject({
    note: '=1+1',
  });
});

test('all tables go into a folder, which is made', async () => {
  const { exit, out, files } = await runOn(['export', '--output', 'out/tables'], FILES);
  expect(exit).toBe(0);
  const made = Object.keys(files).filter((path) => path.startsWith('out/'));
  expect(made).toEqual(exportTables.map(({ name }) => `out/tables/${name}.csv`));
  expect(out).toContain('wrote weights.csv (5 rows)\n');
  expect(files['out/tables/weights.csv']).toBe(await exported('weights'));
});

test('one table goes to a file, or into a folder', async () => {
  const one = ['export', '--table', 'drops', '--output'];
  expect((await runOn([...one, 'd.csv'], FILES)).files['d.csv']).toBe(await exported('drops'));
  expect((await runOn([...one, 'new/'], FILES)).files['new/drops.csv']).toBe(
    await exported('drops'),
  );
  expect((await runOn([...one, 'seasons'], FILES)).files['seasons/drops.csv']).toBeDefined();
});

test('a table without rows is its header', async () => {
  const { out } = await runOn(['export', '--table', 'drops'], {
    'ledger.yaml': 'title: T\nfruit: fig\ntraits: [flavour]\nsites: {}\n',
    'cultivars.yaml': '{}\n',
    'trees.yaml': '{}\n',
  });
  expect(out).toBe('entry,season,date,tree,cultivar,site,crop,fruit,note,photo\n');
});

test('what cannot be is refused in words', async () => {
  const nothing = await runOn(['export'], FILES);
  expect(nothing.exit).toBe(2);
  expect(nothing.err).toContain('--output');
  expect((await runOn(['export', '--table', 'apples'], FILES)).exit).toBe(2);
  const file = await runOn(['export', '--output', 'trees.yaml'], FILES);
  expect(file).toMatchObject({ exit: 2, files: FILES });
  const broken = await runOn(['export', '--output', 'out'], { ...FILES, 'trees.yaml': 'Y1: 3\n' });
  expect(broken.exit).toBe(1);
  expect(Object.keys(broken.files).some((path) => path.startsWith('out'))).toBe(false);
});
