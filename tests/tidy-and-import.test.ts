import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { IMPORT_FIELDS } from '../src/cli/commands/import.ts';
import { run } from '../src/cli/run.ts';
import { columnFields, type ImportKind } from '../src/writing/import/columns.ts';
import { StoreFault } from '../src/writing/store.ts';
import { type MemoryWorld, memoryHost } from './support/memory-host.ts';
import { SMALL_EXAMPLE } from './support/small-example.ts';

const EXAMPLE = fileURLToPath(new URL('../ledger-example/', import.meta.url));

async function pomary(argv: readonly string[], world: Partial<MemoryWorld> = {}) {
  const { files = {}, ...rest } = world;
  const captured = memoryHost({ files: { ...SMALL_EXAMPLE, ...files }, ...rest });
  const status = await run(argv, captured.host);
  const text = (path: string) => String(captured.files.get(`/trial/${path}`));
  return { status, out: captured.out(), err: captured.err(), text, files: captured.files };
}

/** The example ledger as it stands on the disk. */
function example(): Readonly<Record<string, string>> {
  const names = readdirSync(EXAMPLE, { recursive: true, encoding: 'utf8' }).filter((name) =>
    /\.(yaml|csv)$/.test(name),
  );
  const read = (name: string) => readFileSync(join(EXAMPLE, name), 'utf8');
  return Object.fromEntries(names.map((name) => [name.replaceAll('\\', '/'), read(name)]));
}

const TIDY = 'season: 2026\n\npicks:\n  - { on: 2026-08-01, tree: G3, crop: early, fruit: 1 }\n';
const UNTIDY =
  'season: 2026\npicks:\n - {tree: "G3", on: 2026-08-01,   crop: early, fruit: 1} # at last\n';

describe('tidy', () => {
  it('has nothing to do in the example ledger', async () => {
    const captured = memoryHost({ files: example() });
    expect(await run(['tidy', '--check'], captured.host)).toBe(0);
    expect(captured.out()).toBe('All tidy.\n');
  });

  const files = {
    'seasons/2025.yaml': TIDY.replaceAll('2026', '2025'),
    'seasons/2026.yaml': UNTIDY,
  };

  it('lists what is not tidy, shows what would change, and does it once', async () => {
    const check = await pomary(['tidy', '--check', 'seasons/2025.yaml', 'seasons/2026.yaml'], {
      files,
    });
    expect([check.status, check.out, check.text('seasons/2026.yaml')]).toEqual([
      1,
      'seasons/2026.yaml\n',
      UNTIDY,
    ]);
    const dry = await pomary(['tidy', '--dry-run', 'seasons/2026.yaml'], { files });
    expect([dry.status, dry.text('seasons/2026.yaml')]).toEqual([0, UNTIDY]);
    expect(dry.out).toContain('+++ b/seasons/2026.yaml\n');
    const done = await pomary(['tidy', '2026.yaml'], { files, cwd: '/trial/seasons' });
    expect([done.status, done.out]).toEqual([0, 'seasons/2026.yaml is tidy now.\n']);
    const text = done.text('seasons/2026.yaml');
    expect(text).toContain('- { on: 2026-08-01, tree: G3, crop: early, fruit: 1 }');
    expect(text).toContain('# at last');
    const again = await pomary(['tidy'], { files: { ...files, 'seasons/2026.yaml': text } });
    expect(again.text('seasons/2026.yaml')).toBe(text);
  });

  it('leaves a file alone that cannot be read, and goes on with the others', async () => {
    const ran = await pomary(['tidy'], { files: { ...files, 'seasons/2025.yaml': 'season: [' } });
    expect(ran.status).toBe(1);
    expect(ran.err).toContain('seasons/2025.yaml:1:');
    expect(ran.text('seasons/2025.yaml')).toBe('season: [');
    expect(ran.out).toContain('seasons/2026.yaml is tidy now.');
  });

  it.each<[readonly string[], number, string]>([
    [['tidy', 'seasons/2031.yaml'], 2, 'seasons/2031.yaml is not there'],
    [['tidy', 'weather/2026.csv'], 2, 'no YAML file of the ledger'],
    [['tidy', '/etc/hosts'], 2, 'its files are ledger.yaml'],
    [['tidy', '--check', '--dry-run'], 2, 'give one'],
  ])('%j ends with status %i', async (argv, status, said) => {
    const ran = await pomary(argv, { files });
    expect(ran.status).toBe(status);
    expect(ran.err).toContain(said);
  });

  it('says so where the disk does not play along', async () => {
    const storeFault = new StoreFault('', 'EROFS', 'the disk can only be read', 'use another');
    const ran = await pomary(['tidy', 'seasons/2026.yaml'], { files, storeFault });
    expect([ran.status, ran.text('seasons/2026.yaml')]).toEqual([3, UNTIDY]);
    expect(ran.err).toContain('cannot write seasons/2026.yaml: the disk can only be read');
  });
});

describe('import', () => {
  const before = SMALL_EXAMPLE['seasons/2026.yaml'] ?? '';
  const GOOD = `Date,Tree,Which crop,How many,Total weight (oz),Weather
2026-08-01,g3,breba,4,8.5,rain
2026-08-02,Y1,main,3,4,
`;
  const BAD = `${GOOD}2026-08-02,Y99,main,3,4,"two
lines"
2026-08-03,G7,main,0,,
2019-08-03,Y1,main,1,1,
`;
  const csv = (text: string) => ({ files: { 'picks.csv': text } });
  const PICKS = ['import', 'picks.csv', '--kind', 'picks'];

  it('writes the rows of a table', async () => {
    const ran = await pomary(PICKS, csv(GOOD));
    expect([ran.status, ran.out, ran.err]).toEqual([
      0,
      'seasons/2026.yaml: 2 picks written\nLeft out: Weather.\n',
      '',
    ]);
    expect(ran.text('seasons/2026.yaml')).toContain(
      '- { on: 2026-08-01, tree: G3, crop: early, fruit: 4, weight: 8.5 oz }',
    );
    const piped = await pomary(['import', '-', '--kind', 'picks'], { stdin: GOOD });
    expect(piped.text('seasons/2026.yaml')).toBe(ran.text('seasons/2026.yaml'));
  });

  it('a dry run is a table of the entries and says where columns go', async () => {
    const ran = await pomary([...PICKS, '--dry-run'], csv(GOOD));
    expect([ran.status, ran.text('seasons/2026.yaml')]).toEqual([0, before]);
    expect(ran.out).toMatch(/^What would be written: \d+ picks of 2026\n/);
    expect(ran.out).toMatch(/\n1 Aug +G3 +early +4 +8\.5 oz\n/);
    expect(ran.out).toContain('Left out: Weather.');
    expect(ran.out.replaceAll(/\s+/g, ' ')).toContain('Total weight (oz) gives weight in oz');
  });

  it('with a bad row nothing is written; each is shown at its place', async () => {
    const ran = await pomary(PICKS, csv(BAD));
    expect([ran.status, ran.out, ran.text('seasons/2026.yaml')]).toEqual([1, '', before]);
    expect(ran.err).toContain('Y99 is no tree of this ledger');
    expect(ran.err).toMatch(/picks\.csv:7:1 error entry-before-tree/);
    expect(ran.err).toContain('Nothing was written. 2 of 5 rows cannot be taken');
  });

  it('good rows can be kept; the others come back whole, with reasons, ready to be mended', async () => {
    const ran = await pomary([...PICKS, '--keep-good', '--rejects', 'rest.csv'], csv(BAD));
    expect([ran.status, ran.out]).toEqual([
      1,
      'seasons/2026.yaml: 3 picks written\nLeft out: Weather.\n',
    ]);
    const rest = ran.text('rest.csv');
    expect(rest).toMatch(/^Date,Tree,Which crop,How many,Total weight \(oz\),Weather,why not\n/);
    expect(rest).toContain('2026-08-02,Y99,main,3,4,"two\nlines",');
    expect(rest).toContain('2019-08-03,Y1,main,1,1,,');
    const mended = await pomary(PICKS, csv(rest.replace('Y99', 'Y6').replace('2019-', '2026-')));
    expect([mended.status, mended.out]).toEqual([
      0,
      'seasons/2026.yaml: 2 picks written\nLeft out: Weather.\n',
    ]);
    const shown = await pomary([...PICKS, '--keep-good'], csv(BAD));
    expect(shown.err).toContain('These rows were not written:\nDate,Tree,');
    expect(shown.err).toContain('"two\nlines"');
  });

  it('a map sends columns where it says, with units, or nowhere; --set fills in the rest', async () => {
    const files = {
      'ernte.csv': 'Tag;Baum;Gewicht;Zahl;Weather;note\n1.8.2026;Y1;0,5;9;rain;odd\n',
      'map.yaml':
        'Tag: on\nBaum: tree\nGewicht: weight (kg)\nZahl: fruit\nWeather: note\n"note": null\n',
    };
    const argv = [
      'import',
      'ernte.csv',
      '--kind',
      'picks',
      '--map',
      'map.yaml',
      '--set',
      'crop=main',
    ];
    const ran = await pomary(argv, { files });
    expect([ran.status, ran.err]).toEqual([0, '']);
    expect(ran.text('seasons/2026.yaml')).toContain(
      '- { on: 2026-08-01, tree: Y1, crop: main, fruit: 9, weight: 0.5 kg, note: rain }',
    );
    const odd = await pomary(argv, { files: { ...files, 'map.yaml': 'Tag: 3\n' } });
    expect([odd.status, odd.text('seasons/2026.yaml')]).toEqual([2, before]);
    const torn = await pomary(argv, { files: { ...files, 'map.yaml': 'Tag: [' } });
    expect([torn.status, torn.text('seasons/2026.yaml')]).toEqual([1, before]);
  });

  it('columns are said on the command line, beside a file, and the last word counts', async () => {
    const files = {
      'ernte.csv': 'Tag;Baum;Gewicht;Zahl;Wetter\n1.8.2026;Y1;0,5;9;rain\n',
      'map.yaml': 'Tag: on\nBaum: tree\nGewicht: weight (g)\nZahl: fruit\n',
    };
    const argv = ['import', 'ernte.csv', '--kind', 'picks', '--set', 'crop=main'];
    const maps = ['--map', 'map.yaml', '--map', 'Gewicht=weight (kg)', '--map', 'Wetter='];
    const ran = await pomary([...argv, ...maps], { files });
    expect([ran.status, ran.err, ran.out]).toEqual([0, '', 'seasons/2026.yaml: 1 pick written\n']);
    expect(ran.text('seasons/2026.yaml')).toContain(
      '- { on: 2026-08-01, tree: Y1, crop: main, fruit: 9, weight: 0.5 kg }',
    );
    const odd = await pomary([...argv, '--map', 'Tag=day'], { files });
    expect([odd.status, odd.text('seasons/2026.yaml')]).toEqual([1, before]);
    expect(odd.err).toContain(
      'which is no field of such an entry; its fields are on, tree, crop, fruit',
    );
  });

  it.each([
    [';', 'Date;Tree;crop;fruit\n2026-08-02;Y99;main;3\n'],
    ['a tab', 'Date\tTree\tcrop\tfruit\n2026-08-02\tY99\tmain\t3\n'],
  ])('rows that are handed back are parted by %s as they came', async (_name, text) => {
    const ran = await pomary([...PICKS, '--rejects', 'rest.csv'], csv(text));
    expect(ran.status).toBe(1);
    const sign = text.includes(';') ? ';' : '\t';
    const [head, row] = text.split('\n');
    expect(ran.text('rest.csv')).toMatch(
      new RegExp(`^${head}${sign}why not\\n${row}${sign}"?Tree: Y99 is no tree`),
    );
  });

  it('what is wrong with many rows in one way is said once, and kept for each in the rejects', async () => {
    const rows = Array.from(
      { length: 12 },
      (_, at) => `2026-08-${10 + at},Q${at % 2},main,${at}\n`,
    );
    const text = `date,tree,crop,fruit\n${rows.join('')}`;
    const ran = await pomary([...PICKS, '--rejects', 'rest.csv'], csv(text));
    expect(ran.status).toBe(1);
    expect(ran.err.match(/error row-not-understood/g)).toHaveLength(2);
    expect(ran.err.replaceAll(/\s+/g, ' ')).toContain(
      'tree: Q0 is no tree of this ledger; the same in 5 more rows: lines 4, 6, 8, 10, 12',
    );
    expect(ran.text('rest.csv').match(/Q[01] is no tree/g)).toHaveLength(12);
  });

  it('says what a merged cell, a total and a foreign word of the crop ask for', async () => {
    const text =
      'date,tree,crop,fruit\n2026-08-10,G3,main,1\n,G3,main,2\n2026-08-12,G3,Haupternte,3\nSumme,,,6\n';
    const said = (await pomary(PICKS, csv(text))).err.replaceAll(/\s+/g, ' ');
    expect(said).toContain('date is empty');
    expect(said).toContain('a cell merged over several rows is saved in the first of them alone');
    expect(said).toContain('leave the column out and say --set crop=main');
    expect(said).toContain('if this row is a heading or a total, --keep-good passes over it');
  });

  it('takes cultivars, then trees of them, and passes over what is listed already', async () => {
    const files = {
      'c.csv': 'Variety,Type\nAmber Lantern,common\nPaper Lamp,\n',
      't.csv':
        'Tree,Variety,Where\nG3,Amber Lantern,glass\nZ1,Paper Lamp,south wall\nZ2,Amber Lantern,yard\n',
    };
    const cultivars = await pomary(['import', 'c.csv', '--kind', 'cultivars'], { files });
    expect([cultivars.status, cultivars.err, cultivars.out]).toEqual([
      0,
      '',
      'cultivars.yaml: 1 row is there already and passed over (line 2)\n  Amber Lantern,common\ncultivars.yaml: 1 cultivar written\n',
    ]);
    expect(cultivars.text('cultivars.yaml')).toBe(
      `${SMALL_EXAMPLE['cultivars.yaml']}paper-lamp: { name: Paper Lamp, bears: unknown }\n`,
    );
    const more = { ...files, 'cultivars.yaml': cultivars.text('cultivars.yaml') };
    const trees = await pomary(['import', 't.csv', '--kind', 'trees'], { files: more });
    expect([trees.status, trees.out]).toEqual([
      0,
      'trees.yaml: 1 row is there already and passed over (line 2)\n  G3,Amber Lantern,glass\ntrees.yaml: 2 trees written\n',
    ]);
    expect(trees.text('trees.yaml')).toBe(
      `${SMALL_EXAMPLE['trees.yaml']}Z1: { cultivar: paper-lamp, site: yard }\nZ2: { cultivar: amber-lantern, site: yard }\n`,
    );
    const dry = await pomary(['import', 't.csv', '--kind', 'trees', '--dry-run'], { files: more });
    expect(dry.out).toMatch(/Z1 +paper-lamp +yard/);
    const other = { ...files, 't.csv': 'Tree,Variety,Where\nG3,Amber Lantern,yard\n' };
    const moved = await pomary(['import', 't.csv', '--kind', 'trees'], { files: other });
    expect([moved.status, moved.text('trees.yaml')]).toEqual([1, SMALL_EXAMPLE['trees.yaml']]);
    expect(moved.err).toContain('t.csv:2:1 error');
  });

  it('names in its help every field that a column may give, within the width of a terminal', async () => {
    for (const [kind, fields] of Object.entries(IMPORT_FIELDS)) {
      const words = fields.replace(/, and .*/, '').split(' ');
      expect(words, `${kind} in src/cli/commands/import.ts`).toEqual(
        columnFields(kind as ImportKind).map(({ key }) => key),
      );
    }
    const help = await pomary(['import', '--help'], { env: { COLUMNS: '80' } });
    expect(help.out).toMatch(/^ {2}counts +on tree crop fruit branches/m);
    for (const line of help.out.split('\n')) expect(line.length).toBeLessThanOrEqual(80);
  });

  const WIDE = `Date,Tree,Fig 1,Fig 2,Fig 3,Fig 4
2026-09-15,g3,50,51.5,,
2026-09-15,Y1,48,47,46,45
`;

  it('fruit that have a column each are joined in the order of the columns', async () => {
    const files = {
      'wide.csv': WIDE,
      'map.yaml': 'Fig 1: weights\nFig 2: weights\nFig 3: weights\nFig 4: weights\n',
    };
    const argv = ['import', 'wide.csv', '--kind', 'picks', '--set', 'crop=main'];
    const ran = await pomary([...argv, '--map', 'map.yaml'], { files });
    expect(ran.status).toBe(0);
    const season = ran.text('seasons/2026.yaml');
    expect(season).toContain('tree: G3, crop: main, weights: [50, 51.5] }');
    expect(season).toContain('tree: Y1, crop: main, weights: [48, 47, 46, 45] }');
    const equal = WIDE.replace(/Fig \d/g, 'weights');
    const same = await pomary(argv, { files: { 'wide.csv': equal } });
    expect(same.text('seasons/2026.yaml')).toBe(season);
  });

  it.each([
    [
      'equal headers',
      'split,split',
      '',
      'two columns give split: split (column 4) and split (column 5)',
    ],
    ['a map', 'a,b', 'a: split\nb: split\n', 'split: a (column 4) and b (column 5)'],
    ['a map and a header', 'a,splits', 'a: split\n', 'split: a (column 4) and splits (column 5)'],
    ['headers that mean the same', 'splits,cracks', '', 'split: splits (column 4) and cracks'],
  ])('two columns that give one field are refused: %s', async (_how, headers, map, said) => {
    const text = `date,tree,weights,${headers}\n2026-09-15,G3,50,1,0\n`;
    const files = { 'picks.csv': text, 'map.yaml': map };
    const argv = map === '' ? PICKS : [...PICKS, '--map', 'map.yaml'];
    const ran = await pomary([...argv, '--set', 'crop=main'], { files });
    expect([ran.status, ran.text('seasons/2026.yaml')]).toEqual([1, before]);
    expect(ran.err).toContain(said);
  });

  it('a comma that may part two fruit is refused until the sign is said', async () => {
    const files = { 'picks.csv': 'date;tree;crop;weights\n2026-09-15;G3;main;52,47 63,59\n' };
    const ran = await pomary(PICKS, { files });
    expect([ran.status, ran.text('seasons/2026.yaml')]).toEqual([1, before]);
    expect(ran.err).toContain('52,47 may be 52.47, or 52 and 47');
    const said = await pomary([...PICKS, '--decimal', 'comma'], { files });
    expect(said.text('seasons/2026.yaml')).toContain('weights: [52.47, 63.59] }');
  });

  it('scores become sittings', async () => {
    const table =
      'date,tree,crop,who,ripe,sweetness,flavour\n2026-10-30,Y1,main,Mara,ripe,8,9.5\n2026-10-30,Y1,main,Joss,,7,\n';
    const ran = await pomary(['import', 'picks.csv', '--kind', 'tastings'], csv(table));
    expect(ran.status).toBe(0);
    // Of the sitting, which is made of both rows.
    expect(ran.err).toMatch(/^seasons\/2026\.yaml:\d+:\d+ warning sheet-half-filled\n {2}Joss /);
    expect(ran.text('seasons/2026.yaml')).toContain('mara: { Y1: { sweetness: 8, flavour: 9.5 } }');
    expect(ran.text('seasons/2026.yaml')).toContain('joss: { Y1: { sweetness: 7 } }');
    const dry = await pomary(
      ['import', 'picks.csv', '--kind', 'tastings', '--dry-run'],
      csv(table),
    );
    expect(dry.out).toMatch(/\n30 Oct +Y1 +main +ripe +mara +8 +9\.5/);
  });

  it.each<[readonly string[], string, number, string]>([
    [['--kind', 'figs'], GOOD, 2, 'picks'],
    [[], GOOD, 2, '--kind <section> is missing'],
    [['--kind', 'picks', '--set', 'crop'], GOOD, 2, 'as in crop=early'],
    [['--kind', 'picks', '--rejects', 'trees.yaml'], BAD, 2, 'a file of the ledger itself'],
    [['--kind', 'picks', '--map', 'nothere.yaml'], GOOD, 3, 'it does not exist'],
    [['--kind', 'picks'], '', 1, 'the table is empty'],
    [['--kind', 'picks'], 'Tree,Fruit\nG3,1\n', 1, 'no column gives the date'],
    [
      ['--kind', 'picks'],
      'Date,Tree,Fruit\n5/6/2026,G3,1\n',
      1,
      'may have the day or the month first',
    ],
    [['--kind', 'picks'], 'Date,Tree\n"5,G3\n', 1, 'a quote that is not closed'],
  ])('%j ends with its own status', async (argv, text, status, said) => {
    const ran = await pomary(['import', 'picks.csv', ...argv], csv(text));
    expect([ran.status, ran.text('seasons/2026.yaml')]).toEqual([status, before]);
    expect(ran.err).toContain(said);
  });

  it('a full disk hands everything back', async () => {
    const storeFault = new StoreFault('', 'ENOSPC', 'the disk is full', 'make room');
    const ran = await pomary(PICKS, { ...csv(GOOD), storeFault });
    expect(ran.status).toBe(3);
    expect(ran.err).toContain(
      '- { on: 2026-08-01, tree: G3, crop: early, fruit: 4, weight: 8.5 oz }',
    );
  });
});
