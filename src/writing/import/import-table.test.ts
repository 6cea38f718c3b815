import { expect, test } from 'vitest';
import { entryLedger } from '../../../tests/support/entry-ledger.ts';
import { SECTIONS } from '../../entries/catalogue.ts';
import type { SeasonSection } from '../../model/ledger.ts';
import { readYaml } from '../../reading/yaml-read.ts';
import { placeEntries } from '../place-entries.ts';
import { guessMapping, type ListedKind } from './columns.ts';
import { type ImportOptions, importListings, importTable } from './import-table.ts';

const ledger = entryLedger();
function imported(text: string, section: SeasonSection, more: Partial<ImportOptions> = {}) {
  return importTable(text, { section, ledger, ...more });
}

test('headers in plain English, units in headers, decimal commas', () => {
  const result = imported(
    `Date;Tree ID;Which crop;How many;Total weight (oz);Bird damage;Remarks;Weather
24/07/2026;g3;breba;11;20,5;2;wet week;rain
3/8/2026;Y1;main;3;7,25 ;;"a; b";
`,
    'picks',
  );
  expect(result.problems).toEqual([]);
  expect(result.ignored).toEqual(['Weather']);
  expect(result.rejects).toEqual([]);
  expect(result.entries.map(({ entry }) => entry)).toEqual([
    {
      on: '2026-07-24',
      tree: 'G3',
      crop: 'early',
      fruit: 11,
      weight: '20.5 oz',
      bird: 2,
      note: 'wet week',
    },
    { on: '2026-08-03', tree: 'Y1', crop: 'main', fruit: 3, weight: '7.25 oz', note: 'a; b' },
  ]);
});

test('the whole column decides which of day and month comes first; else it is asked', () => {
  const table = (...dates: readonly string[]) =>
    `on,tree,crop,fruit\n${dates.map((date) => `${date},G3,early,1`).join('\n')}\n`;
  const dates = (text: string, more = {}) =>
    imported(text, 'counts', more).entries.map(({ entry }) => entry.on);
  expect(dates(table('5/6/2026', '24/7/2026'))).toEqual(['2026-06-05', '2026-07-24']);
  expect(dates(table('5/6/2026', '7/24/2026'))).toEqual(['2026-05-06', '2026-07-24']);
  expect(imported(table('5/6/2026', '6/6/2026'), 'counts').problems[0]?.message).toBe(
    '5/6/2026 may have the day or the month first, and no row of the table tells',
  );
  expect(dates(table('5/6/2026'), { dateOrder: 'month' })).toEqual(['2026-05-06']);
  expect(imported(table('24/7/2026', '7/24/2026'), 'counts').problems[0]?.message).toBe(
    'some dates have the day first, others the month',
  );
  expect(dates(table('2026-07-24 10:30', '24.7.2026', '24 Jul 2026', '"July 24, 2026"'))).toEqual(
    Array(4).fill('2026-07-24'),
  );
});

test('a row that cannot be read is handed back whole, with every reason', () => {
  const result = imported(
    `date\ttree\tcrop\tfruit\tweights
2026-07-24\tG33\tearly\tmany\t52.4; 47
2026-02-30\tG3\tearly\t1\t
2026-07-24\tY1\t\t1\t
2026-07-24\tG3\tearly\t\t
2026-07-24\tG3\tearly\t1\t52.4 47
2026-07-24\tG3\tearly\t\t52.4; 2.1 oz
2026-07-24\tG3\tearly\t\t52.4\t47
`,
    'picks',
  );
  expect(result.rejects.map(({ line, reason }) => [line, reason])).toEqual([
    [2, 'tree: G33 is no tree of this ledger; did you mean G3?; fruit: many is no number'],
    [3, 'date: 2026-02-30 is no date with a year'],
    [
      4,
      'the crop is not given, and two can be meant; add a column crop, or say --set crop=early or crop=main',
    ],
    [5, 'neither fruit nor weights are given'],
    [6, 'there are 2 weights, but fruit is 1'],
    [8, 'the row is longer than the headings, by 47'],
  ]);
  expect(result.rejects[0]?.cells).toEqual(['2026-07-24', 'G33', 'early', 'many', '52.4; 47']);
  expect(result.entries.map(({ entry }) => entry)).toEqual([
    { on: '2026-07-24', tree: 'G3', crop: 'early', weights: [52.4, '2.1 oz'] },
  ]);
});

test('what stands under no heading is not left out unsaid', () => {
  const bare = 'on,tree,crop,weights\n2026-07-24,G3,early,52,4\n2026-07-25,G3,early,47,\n';
  expect(imported(bare, 'picks')).toMatchObject({
    entries: [{ entry: { on: '2026-07-25', weights: [47] } }],
    rejects: [
      {
        line: 2,
        reason:
          'the row is longer than the headings, by 4; a number or text with a comma in it goes in quotes',
        cells: ['2026-07-24', 'G3', 'early', '52', '4'],
      },
    ],
  });
  const blank = 'on;tree;crop;weights;;\n2026-07-24;G3;early;52;47;\n';
  expect(imported(blank, 'picks')).toMatchObject({
    entries: [],
    problems: [{ message: 'column 5 has no heading, and holds 47' }],
  });
});

test('commas in numbers: decimal, parting thousands, or unclear', () => {
  const table = (...weights: readonly string[]) =>
    `on;tree;crop;fruit;weight\n${weights.map((one) => `2026-07-24;G3;early;9;${one}`).join('\n')}\n`;
  const weights = (text: string) =>
    imported(text, 'picks').entries.map(({ entry }) => 'weight' in entry && entry.weight);
  expect(weights(table('580,5', '1.234,5', '1,234'))).toEqual([580.5, 1234.5, 1.234]);
  expect(weights(table('1,234.5', '1,234'))).toEqual([1234.5, 1234]);
  expect(imported(table('1,234'), 'picks').rejects[0]?.reason).toBe(
    'weight: 1,234 may be 1.234, or 1234; write it without a doubt, or say --decimal comma or point',
  );
  expect(weights(table("1'234.5"))).toEqual([1234.5]);
});

test('a table of scores, a taster and a sample a row', () => {
  const result = imported(
    `Date,Tree,Crop,Who,Sweetness,Flavour,Brix
2026-07-24,G3,early,Mara,8,9,19.5
2026-07-24,G3,early,,8,9,
2026-07-24,G3,early,Joss,12,,
`,
    'tastings',
  );
  expect(result.entries.map(({ entry }) => entry)).toEqual([
    {
      on: '2026-07-24',
      samples: [{ tree: 'G3', crop: 'early', brix: 19.5 }],
      scores: { mara: { G3: { sweetness: 8, flavour: 9 } } },
    },
  ]);
  expect(result.rejects.map(({ reason }) => reason)).toEqual([
    'the scores have no taster',
    'Sweetness: 12 is off the scale, which runs from 1 to 10',
  ]);
});

test('a mapping and fixed values in place of headers and columns', () => {
  const result = imported('A,B,C\n2026-03-01,G3,5.5\n', 'growth', {
    mapping: { A: { to: 'on' }, B: { to: 'tree' }, C: { to: 'girth', unit: 'in' } },
  });
  expect(result.entries[0]?.entry).toEqual({ on: '2026-03-01', tree: 'G3', girth: '5.5 in' });
  const drops = imported('tree,fallen\nG3,2\n', 'drops', {
    fixed: { on: '2026-07-20', crop: 'breba' },
  });
  expect(drops.entries[0]?.entry).toEqual({
    on: '2026-07-20',
    tree: 'G3',
    crop: 'early',
    fruit: 2,
  });
  const wrong = imported('A\n1\n', 'growth', { mapping: { A: { to: 'mass' }, Z: { to: 'on' } } });
  expect(wrong.problems.map(({ message }) => message)).toEqual([
    'no column gives the date',
    'no column gives tree',
    'no column gives girth or height',
    'the table has no column Z',
    'the column A is to give mass, which is no field of such an entry',
  ]);
});

test('what is no table says so', () => {
  expect(imported('', 'picks').problems[0]?.message).toBe('the table is empty');
  expect(imported('date,tree\n"2026', 'picks').problems[0]?.message).toBe('line 2 cannot be read');
});

test('common headers are understood for every section', () => {
  for (const section of SECTIONS) {
    const headers = ['date', 'tree', 'crop', 'number', 'kind', 'notes'];
    const { mapping, missing } = guessMapping(headers, section, ledger.trial.traits);
    expect(missing).toEqual([]);
    expect(mapping['date']).toEqual({ to: 'on' });
    expect(mapping['notes']).toEqual({ to: 'note' });
  }
});

test('sittings of one day in an exported table are not run together', () => {
  const head = 'sample,entry,season,date,tree,crop,label\n';
  const row = (id: number) => `s${id},tasting-2026-${id},2026,2026-07-24,G3,early,G3\n`;
  expect(imported(head + row(1) + row(1), 'tastings').problems).toEqual([]);
  const sittings = (text: string) =>
    imported(text, 'tastings').entries.map((one) => 'sitting' in one && one.sitting);
  expect(sittings(head + row(1) + row(1))).toEqual([false, false]);
  expect(sittings(head + row(1) + row(2))).toEqual(['tasting-2026-1', 'tasting-2026-2']);
});

test('a column parts the sittings of one day', () => {
  const head = 'date;tree;crop;who;flavour;place;sitting\n';
  const rows =
    '24/7/2026;G3;early;Mara;7;1;noon\n24/7/2026;Y1;early;Mara;6;2;noon\n' +
    '24/7/2026;G3;early;Mara;5;1;evening\n';
  const { entries, problems, ignored } = imported(head + rows, 'tastings');
  expect([problems, ignored]).toEqual([[], []]);
  expect(entries.map(({ entry }) => ('order' in entry ? entry.order : undefined))).toEqual([
    { mara: ['G3', 'Y1'] },
    undefined,
    { mara: ['G3'] },
  ]);
  const file = { path: 'seasons/2026.yaml', text: 'season: 2026\n', bom: false };
  const placed = placeEntries(file, entries, ledger.trial.cropNames, readYaml);
  expect(placed.kind === 'placed' && placed.file.text.match(/- on: .*|G3: \{.*?\}/g)).toEqual([
    '- on: 2026-07-24',
    'G3: { flavour: 7 }',
    '- on: 2026-07-24',
    'G3: { flavour: 5 }',
  ]);
  const bare = imported(`${head}${rows}24/7/2026;G3;early;Joss;5;1;\n`, 'tastings');
  expect(bare.problems).toEqual([
    {
      message: 'line 5 tells no sitting, as other rows of 24/7/2026 do',
      advice: 'fill the column in, or leave it out with --map "sitting="',
    },
  ]);
});

test('of several sittings none is joined to the one that the file has', () => {
  const head = 'date;tree;crop;who;flavour;sitting\n';
  const rows = '24/7/2026;G3;early;Mara;7;noon\n24/7/2026;G3;early;Mara;5;evening\n';
  const text =
    'season: 2026\ntastings:\n  - on: 2026-07-24\n    samples: [{ tree: G3, crop: early }]\n';
  const file = { path: 'seasons/2026.yaml', text, bom: false };
  const { entries } = imported(head + rows, 'tastings');
  const placed = placeEntries(file, entries.slice(1), ledger.trial.cropNames, readYaml);
  expect(placed.kind !== 'placed' && placed.diagnostics.map(({ message }) => message)).toEqual([
    'there is a sitting on 2026-07-24 already, and the table tells several: nobody knows which it is',
  ]);
});

const PICKED = 'date,Tree no.,crop';

test.each([
  ['Weight g,Fruit', '580,11', { fruit: 11, weight: 580 }],
  ['Weight_g,Figs', '580,11', { fruit: 11, weight: 580 }],
  ['Weight in ounces,n', '20.5,11', { fruit: 11, weight: '20.5 oz' }],
  ['Grams,how many', '580,11', { fruit: 11, weight: 580 }],
  ['wt (grams),qty', '580,11', { fruit: 11, weight: 580 }],
  ['Fig 1,Fig 2,Fig 3', '52.4,47,', { weights: [52.4, 47] }],
  ['Weight 1 (oz),Weight 2 (oz)', '2.1,2', { weights: ['2.1 oz', '2 oz'] }],
  ['Fruit weight g,split', '52.4,x', { weights: [52.4], split: 1 }],
  ['Fruit weight g,bird,insect', '52.4,no,-', { weights: [52.4], bird: 0 }],
])('headers and values as people write them: %s', (headers, cells, wanted) => {
  const result = imported(`${PICKED},${headers}\n24/7/2026,G3,early,${cells}\n`, 'picks');
  expect([result.problems, result.rejects, result.ignored]).toEqual([[], [], []]);
  expect(result.entries[0]?.entry).toEqual({
    on: '2026-07-24',
    tree: 'G3',
    crop: 'early',
    ...wanted,
  });
});

test('a cross says of one fruit how many, of several it does not', () => {
  const { rejects } = imported(`${PICKED},fruit,split\n24/7/2026,G3,early,3,x\n`, 'picks');
  expect(rejects.map(({ reason }) => reason)).toEqual([
    'split: a cross does not tell how many of 3; write the number',
  ]);
});

test('a score out of something must be out of what the scale goes to', () => {
  const table = (score: string) => `date,tree,crop,who,Flav\n24/7/2026,G3,early,Mara,${score}\n`;
  expect(imported(table('7/10'), 'tastings').entries[0]?.entry).toMatchObject({
    scores: { mara: { G3: { flavour: 7 } } },
  });
  expect(imported(table('15/20'), 'tastings').rejects[0]?.reason).toBe(
    'Flav: 15/20 is out of 20, and the scale of the ledger goes to 10',
  );
  expect(imported(table('-'), 'tastings').entries[0]?.entry).not.toHaveProperty('scores');
});

test('a column with the cultivar catches a wrong tree, and is not written', () => {
  const { entries, rejects, ignored } = imported(
    `date,tree,Variety,crop,fruit
24/7/2026,G3,Amber Lantern,early,1
24/7/2026,G3,AMBER-LANTERN,early,2
24/7/2026,Y1,Amber Lantern,early,3
24/7/2026,G3,Amber Lanten,early,4
`,
    'counts',
  );
  expect(ignored).toEqual([]);
  expect(entries.map(({ entry }) => entry)).toEqual(
    [1, 2].map((fruit) => ({ on: '2026-07-24', tree: 'G3', crop: 'early', fruit })),
  );
  expect(rejects.map(({ line, reason }) => [line, reason])).toEqual([
    [4, expect.stringMatching(/^Variety: Y1 is .+, not Amber Lantern; one of them is wrong$/)],
    [
      5,
      'Variety: G3 is Amber Lantern, and Amber Lanten is no cultivar of this ledger; did you mean Amber Lantern?',
    ],
  ]);
});

test('a tree may go by the name of its cultivar, where that has one', () => {
  const alone = [...ledger.trees.values()].find(
    ({ cultivar }) =>
      cultivar.name.includes(' ') &&
      [...ledger.trees.values()].filter((tree) => tree.cultivar === cultivar).length === 1,
  );
  if (alone === undefined) throw new Error('no cultivar with one tree and a name of two words');
  const table = `date,variety,crop,fruit\n24/7/2026,${alone.cultivar.name},main,1\n`;
  expect(imported(table, 'counts').entries[0]?.entry).toMatchObject({ tree: alone.id });
});

test('what no column gives is told once, with the column that may be meant', () => {
  const { problems, entries } = imported(
    `${PICKED},Schwere\n24/7/2026,G3,early,50\n25/7/2026,G3,early,51\n`,
    'picks',
  );
  expect(entries).toEqual([]);
  expect(problems).toEqual([
    {
      message: 'no column gives fruit or weights (not understood: Schwere)',
      advice:
        'name a column fruit or weights, or say which one it is, as in --map "Schwere=weights"',
    },
  ]);
  const foreign = imported('Wetter;Tag;Baum;Gewicht\nwarm;24.07.2026;G3;41,5\n', 'picks');
  expect(foreign.problems.map(({ advice }) => /--map .*/.exec(advice)?.[0])).toEqual([
    '--map "Tag=on"',
    '--map "Baum=tree"',
    '--map "Gewicht=weights"',
  ]);
  const whole = imported(`${PICKED},Weight g\n24/7/2026,G3,early,50\n`, 'picks');
  expect(whole.problems[0]?.advice).toContain(
    'if each row is one fruit, say --map "Weight g=weights"',
  );
});

function listed(text: string, section: ListedKind, more: Partial<ImportOptions<ListedKind>> = {}) {
  return importListings(text, { section, ledger, ...more });
}

test('cultivars come from a list as people keep it', () => {
  const result = listed(
    `Variety;Type;Synonyms;Breeders rights;Notes
Paper Lamp;San Pedro;Lampe, Lampion;;
Ärmel's Best;?;;-;late
`,
    'cultivars',
    {
      mapping: {
        ...guessMapping(['Variety', 'Type', 'Synonyms', 'Notes'], 'cultivars', []).mapping,
        'Breeders rights': { to: 'protected' },
      },
    },
  );
  expect([result.problems, result.rejects, result.ignored]).toEqual([[], [], []]);
  expect(result.entries).toEqual([
    {
      section: 'cultivars',
      key: 'paper-lamp',
      entry: { name: 'Paper Lamp', bears: 'san-pedro', also: ['Lampe', 'Lampion'] },
    },
    {
      section: 'cultivars',
      key: 'armels-best',
      entry: { name: "Ärmel's Best", bears: 'unknown', note: 'late' },
    },
  ]);
  const twice = listed('name\nPaper Lamp\npaper lamp\n', 'cultivars');
  expect(twice.rejects.map(({ reason }) => reason)).toEqual([
    'paper lamp is in the table twice; give a key if these are two',
  ]);
});

test('trees come from a list: cultivar by its name, dates as far as they are known, pots', () => {
  const result = listed(
    `No.,Variety,Where,Planted,Pot (L),From
Z1,Amber Lantern,yard,4/2022,20,swap table
Z2,amber-lantern,yard,2021,ground,
Z3,Amber Lantern,yard,April 2020,,
Z4,Amber Lantern,yard,spring 2022,,
Z5,Amber Lanten,yard,2021-05-03,,
`,
    'trees',
  );
  expect([result.problems, result.ignored]).toEqual([[], []]);
  expect(result.entries).toEqual([
    {
      section: 'trees',
      key: 'Z1',
      entry: {
        cultivar: expect.any(String),
        from: 'swap table',
        planted: '2022-04',
        site: 'yard',
        container: '20 L',
      },
    },
    {
      section: 'trees',
      key: 'Z2',
      entry: { cultivar: expect.any(String), planted: 2021, site: 'yard', container: 'ground' },
    },
    {
      section: 'trees',
      key: 'Z3',
      entry: { cultivar: expect.any(String), planted: '2020-04', site: 'yard' },
    },
  ]);
  expect(result.rejects.map(({ line, reason }) => [line, reason])).toEqual([
    [5, 'Planted: spring 2022 is no day, month or year, as in 2022-04-16, 2022-04 or 2022'],
    [6, 'Variety: Amber Lanten is no cultivar of this ledger; did you mean Amber Lantern?'],
  ]);
  const where = listed('tree,cultivar\nZ1,Amber Lantern\n', 'trees');
  expect(where.rejects[0]?.reason).toMatch(/^where it stands is not given; the sites are /);
});
