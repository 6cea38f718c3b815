import { describe, expect, it } from 'vitest';
import { ledgerFile, ledgerWith, seasonText } from '../../tests/diagnostics/base-ledger.ts';
import { expectRead, readFiles, soundLedger, told } from '../../tests/support/read-marked.ts';
import { isSpan } from '../source/source-file.ts';
import { shownValue } from './shown-value.ts';

const SEASON = seasonText(`counts:
  - { on: 2026-07-02, tree: G1, crop: breba, fruit: 21, branches: 8 }
  - { on: 2026-07-02, tree: Y1, crop: breba, fruit: 9 }
picks:
  - { on: 2026-07-24, tree: G1, crop: breba, weights: [52.4, 47], split: 1 }
tastings:
  - on: 2026-07-24
    samples: [{ tree: G1, crop: breba }, { tree: Y1, crop: breba }]
    scores:
      mara: { G1: { sweetness: 8, flavour: 9 }, Y1: { sweetness: 5, flavour: 6 } }
      joss: { G1: { sweetness: 7, flavour: 8 } }
    order:
      mara: [G1, Y1]
growth:
  - { on: 2026-03-01, tree: G1, girth: 14.2 }
events:
  - { on: 2026-05-10, tree: G1, kind: move, site: yard }
  - { on: 2026-07-10, site: glass, kind: spray, product: soap, wait_days: 3 }
`);

describe('one slip', () => {
  const manyTrees = (first: string) =>
    `${first}\n${Array.from({ length: 200 }, (_, at) => `T${at}: { cultivar: amber, site: glass }`).join('\n')}\n`;
  const manyCounts = seasonText(
    `counts:\n${Array.from({ length: 200 }, (_, at) => `  - { on: 2026-07-02, tree: T${at}, crop: breba, fruit: 1 }`).join('\n')}\n`,
  );

  it('in the syntax of trees.yaml brings no complaint for every tree that an entry names', () => {
    const slip = manyTrees('G1: { cultivar: amber, site: glass # expect: yaml-syntax@1').replace(
      'T0:',
      'T0 x:',
    );
    const { diagnostics } = readFiles(
      ledgerWith({ 'trees.yaml': slip, 'seasons/2026.yaml': manyCounts }),
    );
    expect(new Set(diagnostics.map(({ at }) => at.file.path))).toEqual(new Set(['trees.yaml']));
    expect(diagnostics.length).toBeLessThan(5);
  });

  it.each([
    ['is a list', '- G1\n', 'trees.yaml:1:1 value-wrong'],
    ['is a word', 'none\n', 'trees.yaml:1:1 value-wrong'],
    ['is empty', '', 'trees.yaml:1:1 file-empty'],
    ['has nothing but a remark', '# to do\n', 'trees.yaml:1:1 file-empty'],
    ['says null', '~\n', 'trees.yaml:1:1 file-empty'],
  ])('is told once where trees.yaml %s', (_, trees, place) => {
    const read = readFiles(ledgerWith({ 'trees.yaml': trees, 'seasons/2026.yaml': manyCounts }));
    expect(told(read.diagnostics)).toEqual([place]);
  });

  it('in a record leaves its name known to the entries', () => {
    expectRead(
      ledgerWith({
        'cultivars.yaml': `amber: { name: Amber, bears: common }
widow: { name: Widow, bears: sometimes } # expect: value-wrong@30
`,
        'trees.yaml': `G1: { cultivar: widow, site: glass }
Y1: { cultivar: amber, site: glass, planted: last year } # expect: date-unreal@46
Y2: { cultivar: amber } # expect: key-missing@1
W1: { cultivar: amber, site: yrad } # expect: site-unknown@30
`,
        'ledger.yaml': ledgerFile('standard: amber', 'standard: widow'),
        'seasons/2026.yaml': seasonText(`counts:
  - { on: 2026-07-02, tree: G1, crop: breba, fruit: 1 }
  - { on: 2026-07-02, tree: Y1, crop: breba, fruit: 1 }
  - { on: 2026-07-02, tree: Y2, crop: breba, fruit: 1 }
  - { on: 2026-07-02, tree: W1, crop: breba, fruit: 1 }
tastings:
  - on: 2026-07-24
    samples: [{ tree: G1, crop: breba }, { tree: Y1, crop: brebba }] # expect: crop-unknown@60
    scores:
      mara: { G1: { sweetness: 8 }, Y1: { sweetness: 5 } }
    order:
      mara: [G1, Y1]
`),
      }),
    );
  });

  it.each([
    ['traits', 'traits: [sweetness, flavour, texture]', 'traits: sweetness', 'value-wrong@9'],
    ['tasters', 'tasters: { mara: Mara, joss: Joss }', 'tasters: [mara, joss]', 'value-wrong@10'],
    [
      'tasters',
      'tasters: { mara: Mara, joss: Joss }',
      'tasters: { mara: Mara, joss: 7 }',
      'value-wrong@30',
    ],
    [
      'crops',
      'crops: { early: breba, main: main }',
      'crops: { early: breba, mian: main }',
      'key-unknown@24',
    ],
    [
      'crops',
      'crops: { early: breba, main: main }',
      'crops: { early: breba, main: breba }',
      'crop-words@8',
    ],
    [
      'scale',
      'traits: [sweetness, flavour, texture]',
      'traits: [sweetness, flavour, texture]\nscale: { low: 1, high: ten }',
      'value-wrong@24',
    ],
    [
      'scale',
      'traits: [sweetness, flavour, texture]',
      'traits: [sweetness, flavour, texture]\nscale: { low: 5, high: 5 }',
      'scale-empty@8',
    ],
    [
      'sites',
      'sites: { glass: { name: glasshouse, cover: glass }, yard: { name: south wall, cover: open } }',
      'sites: { glass: { name: glasshouse, cover: glass }, yard: { name: wall, cover: sky } }',
      'value-wrong@80',
    ],
  ])(
    'in the %s of ledger.yaml is told once, however many entries hang on it',
    (key, line, slip, mark) => {
      const trial = ledgerFile(line, `${slip} # expect: ${mark}`);
      // A score past the usual scale: where the scale is in doubt, nobody can say that it is wrong.
      const scored = key === 'scale' ? SEASON.replace('flavour: 9', 'flavour: 19') : SEASON;
      expectRead(ledgerWith({ 'ledger.yaml': trial, 'seasons/2026.yaml': scored }));
    },
  );

  it('beside the latitude leaves the growing year known; in it, nothing is held against the year', () => {
    const weather = { 'weather/2026.csv': 'date,tmin,tmax,rain\n2025-07-01,4,11,2\n' };
    const place = (text: string) =>
      ledgerFile('place: { name: Tidewrack Lane, latitude: 52.1 }', text);
    const beside = readFiles(
      ledgerWith({ ...weather, 'ledger.yaml': place('place: { nam: South, latitude: -38 }') }),
    );
    expect(told(beside.diagnostics)).toEqual(['ledger.yaml:3:10 key-unknown']);
    expect(beside.ledger?.trial.place.latitude).toBe(-38);
    const inIt = readFiles(
      ledgerWith({ ...weather, 'ledger.yaml': place('place: { latitude: 38 S }') }),
    );
    expect(told(inIt.diagnostics)).toEqual(['ledger.yaml:3:20 value-wrong']);
  });

  it('in the name of a season file is told once, not for every entry', () => {
    const read = readFiles(ledgerWith({ 'seasons/2025.yaml': SEASON }));
    expect(told(read.diagnostics)).toEqual(['seasons/2025.yaml:1:9 season-mismatch']);
    expect(read.ledger?.seasons).toEqual([]);
  });

  it('in an entry spares its neighbours and the other sections', () => {
    const { ledger } = expectRead(
      ledgerWith({
        'seasons/2026.yaml': `${SEASON}drops:
  - { on: 2026-07-20, tree: G1, crop: breba, fruit: 2 }
  - { on: 2026-07-21, tree: G1, crop: breba, fruit: two } # expect: value-wrong@53
  - 2026-07-22 # expect: value-wrong@5
  - # expect: value-wrong@3
  - { on: 2026-07-23, tree: G1, crop: breba, fruit: 4 }
`,
      }),
    );
    const [season] = ledger?.seasons ?? [];
    expect(season?.drops.map(({ fruit }) => fruit)).toEqual([2, 4]);
    expect(season?.counts).toHaveLength(2);
    expect(season?.tastings[0]?.scores).toHaveLength(6);
    expect([...(ledger?.incomplete ?? [])]).toEqual(['seasons/2026.yaml']);
  });
});

describe('a whole ledger', () => {
  it('may have blank sections, and notes left blank', () => {
    const { seasons, trial } = soundLedger(
      ledgerWith({
        'ledger.yaml': ledgerFile('tasters: { mara: Mara, joss: Joss }', 'tasters:').replace(
          /frost: .*\n/,
          'frost:\n',
        ),
        'seasons/2026.yaml': `season: 2026\ncounts:\npicks: []\ndrops: ~\ntastings:\n  - on: 2026-07-24\n    samples: []\n    scores:\n    order:\ngrowth:\n  - { on: 2026-03-01, tree: G1, girth: 14.2, note: , photo: }\nevents:\nnote:\n`,
      }),
    );
    expect(trial.tasters.size + trial.frost.size).toBe(0);
    expect(seasons[0]).toMatchObject({ counts: [], picks: [], drops: [], events: [] });
    expect(seasons[0]?.growth).toMatchObject([{ girth: 14.2, note: undefined, photo: undefined }]);
  });

  it('tells all its problems in one go, by file and place', () => {
    const { diagnostics } = expectRead({
      ...ledgerWith({
        'ledger.yaml': `${ledgerFile('fruit: fig', 'fruit: 7 # expect: value-wrong@8')}licence: [] # expect: value-wrong@10\n`,
        'cultivars.yaml': 'amber: { bears: common } # expect: key-missing@1\n',
        'trees.yaml':
          'G1: { cultivar: nobody, site: attic } # expect: cultivar-unknown@17, site-unknown@31\n',
        'seasons/2025.yaml': 'season: 2025\npicks: { a: # expect: yaml-syntax@37\n',
        'seasons/2026.yaml': SEASON.replace('tree: Y1, crop', 'tree: Y7, crop')
          .replace('fruit: 9 }', 'fruit: 9 } # expect: tree-unknown@29')
          .replace(
            '{ tree: Y1, crop: breba }]',
            '{ tree: Y7, crop: breba }] # expect: tree-unknown@50',
          )
          .replace('Y1: {', 'Y7: {')
          .replace('[G1, Y1]', '[G1, Y7]'),
      }),
    });
    const places = diagnostics.map(({ at }) => [at.file.path, at.start] as const);
    const sorted = [...places].sort((a, b) => (a[0] < b[0] ? -1 : a[0] > b[0] ? 1 : a[1] - b[1]));
    expect(places).toEqual(sorted);
  });

  it('without a readable ledger.yaml still tells what the season files get wrong themselves', () => {
    for (const trial of ['- a list\n', 'a word\n', '']) {
      const read = readFiles(
        ledgerWith({ 'ledger.yaml': trial, 'seasons/2026.yaml': `${SEASON}drop: []\n` }),
      );
      expect(read.ledger).toBeUndefined();
      expect(told(read.diagnostics)).toEqual([
        `ledger.yaml:1:1 ${trial === '' ? 'file-empty' : 'value-wrong'}`,
        'seasons/2026.yaml:20:1 key-unknown',
      ]);
    }
  });

  it('of no files at all is told what it needs', () => {
    const { ledger, diagnostics } = readFiles({});
    expect(ledger).toBeUndefined();
    expect(diagnostics.map(({ message }) => message)).toEqual([
      'the ledger has no cultivars.yaml',
      'the ledger has no ledger.yaml',
      'the ledger has no trees.yaml',
    ]);
  });

  it('says what is expected in words of its own, whatever stands in the wrong place', () => {
    const odd = ['5', 'word', 'true', '[1, [2]]', '{ a: { b: 1 } }', '', '"\\e[31m"'];
    const spots = [
      (value: string) => ({ 'ledger.yaml': value }),
      (value: string) => ({ 'cultivars.yaml': value }),
      (value: string) => ({ 'cultivars.yaml': `amber: ${value}` }),
      (value: string) => ({ 'trees.yaml': `G1: ${value}` }),
      (value: string) => ({ 'seasons/2026.yaml': value }),
      ...[
        ...[
          'title',
          'place',
          'fruit',
          'units',
          'pollinator',
          'crops',
          'scale',
          'traits',
          'tasters',
        ],
        ...['sites', 'frost', 'standard', 'degree_days', 'rank', 'verdict', 'licence'],
      ].map((key) => (value: string) => ({
        'ledger.yaml': `${key}: ${value}\n`,
      })),
      (value: string) => ({
        'ledger.yaml': `rank: { weights: { a: ${value} }, bands: { size: [${value}, [${value}, 1], [1]] } }`,
      }),
      ...['counts', 'picks', 'drops', 'tastings', 'growth', 'events'].flatMap((key) => [
        (value: string) => ({ 'seasons/2026.yaml': `season: 2026\n${key}: ${value}\n` }),
        (value: string) => ({ 'seasons/2026.yaml': `season: 2026\n${key}:\n  - ${value}\n` }),
        ...[
          'on',
          'tree',
          'crop',
          'fruit',
          'weights',
          'samples',
          'scores',
          'order',
          'kind',
          'girth',
          'note',
        ].map((field) => (value: string) => ({
          'seasons/2026.yaml': `season: 2026\n${key}:\n  - ${field}: ${value}\n`,
        })),
      ]),
      (value: string) => ({
        'seasons/2026.yaml': `season: 2026\ntastings:\n  - { on: 2026-07-01, samples: [${value}], scores: { mara: { G1: ${value || '~'} } }, order: { mara: [[[${value}]]] } }\n`,
      }),
    ];
    for (const spot of spots) {
      for (const value of odd) {
        for (const { message, advice, at } of readFiles(ledgerWith(spot(value))).diagnostics) {
          expect(`${message} ${advice}`).not.toMatch(
            /Invalid|Expected|undefined|object|NaN|zod|input/i,
          );
          expect(isSpan(at) && at.end <= at.file.text.length).toBe(true);
        }
      }
    }
  });

  it('cannot be changed once it is read', () => {
    const ledger = soundLedger(
      ledgerWith({
        'seasons/2026.yaml': SEASON,
        'weather/2026.csv': 'date,tmin,tmax,rain\n2026-07-01,9,19,0\n',
      }),
    );
    const loose: string[] = [];
    const seen = new Set<unknown>();
    const walk = (value: unknown, path: string): void => {
      if (typeof value !== 'object' || value === null || seen.has(value)) return;
      seen.add(value);
      if (!Object.isFrozen(value)) loose.push(path);
      if (value instanceof Map || value instanceof Set) {
        const changes = { set: ['x', 1], add: ['x'], delete: ['x'], clear: [] };
        for (const [name, values] of Object.entries(changes)) {
          const change: unknown = Reflect.get(value, name);
          if (typeof change !== 'function') continue;
          expect(() => Reflect.apply(change, value, values), `${path}.${name}`).toThrow(TypeError);
        }
        for (const [key, inner] of value.entries()) walk(inner, `${path}.${String(key)}`);
      } else {
        for (const key of Object.keys(value)) walk(Reflect.get(value, key), `${path}.${key}`);
      }
    };
    walk(ledger, 'ledger');
    expect(loose).toEqual([]);
    expect(seen.size).toBeGreaterThan(80);
    expect(Reflect.set(ledger.trial, 'title', 'x')).toBe(false);
  });
});

describe('a value in a message', () => {
  it('is cut short without tearing a character apart', () => {
    expect(shownValue('abc')).toBe('the text "abc"');
    expect(shownValue(`${'a'.repeat(39)}🌳${'b'.repeat(50)}`)).toBe(
      `the text "${'a'.repeat(39)}🌳..."`,
    );
    expect([null, [], {}, 7, false].map(shownValue)).toEqual([
      'nothing',
      'a list',
      'a map',
      '7',
      'false',
    ]);
  });
});
