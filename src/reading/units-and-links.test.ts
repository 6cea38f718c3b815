import { describe, expect, it } from 'vitest';
import { ledgerWith, seasonText } from '../../tests/diagnostics/base-ledger.ts';
import { expectRead, readFiles, soundLedger, told } from '../../tests/support/read-marked.ts';
import { growingYear, type IsoDate } from '../model/dates.ts';
import { siteOn } from '../model/standing.ts';

const day = (text: string) => text as IsoDate;
const only = <Thing>(things: readonly Thing[] | undefined): Thing => {
  const [first] = things ?? [];
  if (first === undefined) throw new Error('there is none');
  return first;
};
const ledgerOf = (sections: string, more = {}) =>
  soundLedger(ledgerWith({ 'seasons/2026.yaml': seasonText(sections), ...more }));

const IMPERIAL = `title: Tidewrack Lane fig trial
fruit: fig
units: imperial
traits: []
sites: { glass: { name: glasshouse, cover: glass }, yard: { name: south wall, cover: open } }
`;

/*
 * 1 oz = 28.349523125 g, 1 lb = 453.59237 g, 1 in = 2.54 cm, all exact (international yard and pound
 * agreement, 1959; NIST Special Publication 811, appendix B); 1 UK gallon = 4.54609 L (Units of
 * Measurement Regulations 1995).
 */
describe('units', () => {
  it('are converted exactly, whatever the ledger counts in', () => {
    for (const system of [{}, { 'ledger.yaml': IMPERIAL }]) {
      const ledger = ledgerOf(
        `picks:
  - { on: 2026-07-24, tree: G1, crop: early, weights: ["12 oz", "2oz", "40 g", "0.05 kg"], weight: "1.5 lb" }
growth:
  - { on: 2026-03-01, tree: G1, girth: "38 in", height: "6 ft" }
events:
  - { on: 2026-01-09, kind: frost, low: "23 degF" }
  - { on: 2026-03-09, tree: G1, kind: repot, container: "2 UK gal" }
  - { on: 2026-04-09, tree: G1, kind: winter-damage, dieback: "1 ft" }
`,
        system,
      );
      const season = only(ledger.seasons);
      const pick = only(season.picks);
      expect(pick.weights).toEqual([340.1942775, 56.69904625, 40, 50]);
      expect(pick.weight).toBe(680.388555);
      expect(pick.fruit).toBe(4);
      expect(only(season.growth)).toMatchObject({ girth: 96.52, height: 182.88 });
      expect(season.events).toMatchObject([
        { kind: 'frost', low: -5, target: { kind: 'trial' } },
        { kind: 'repot', container: { kind: 'pot', litres: 9.09218, text: '2 UK gal' } },
        { kind: 'winter-damage', dieback: 30.48 },
      ]);
    }
  });

  it('of bare numbers are those of the ledger', () => {
    const sections = `picks:
  - { on: 2026-07-24, tree: G1, crop: early, weights: [2], weight: 2.5 }
tastings:
  - { on: 2026-07-24, samples: [{ tree: G1, crop: early, eye: 0.25 }] }
growth:
  - { on: 2026-03-01, tree: G1, girth: 10, height: 60 }
events:
  - { on: 2026-01-09, kind: frost, low: 32 }
  - { on: 2026-03-09, tree: G1, kind: repot, container: 2 }
`;
    const metric = only(ledgerOf(sections).seasons);
    expect(only(metric.picks)).toMatchObject({ weights: [2], weight: 2.5 });
    expect(only(only(metric.tastings).samples).eye).toBe(0.25);
    expect(only(metric.growth)).toMatchObject({ girth: 10, height: 60 });
    expect(metric.events).toMatchObject([{ low: 32 }, { container: { litres: 2 } }]);
    const imperial = only(ledgerOf(sections, { 'ledger.yaml': IMPERIAL }).seasons);
    expect(only(imperial.picks)).toMatchObject({ weights: [56.69904625], weight: 70.8738078125 });
    expect(only(only(imperial.tastings).samples).eye).toBe(6.35);
    expect(only(imperial.growth)).toMatchObject({ girth: 25.4, height: 152.4 });
    expect(imperial.events).toMatchObject([{ low: 0 }, { container: { litres: 9.09218 } }]);
  });

  it('may not be mixed up with a dimension, left half or run on for pages', () => {
    const endless = `1 ${' '.repeat(20_000)}x`;
    expectRead(
      ledgerWith({
        'seasons/2026.yaml': seasonText(`growth:
  - { on: 2026-03-01, tree: G1, girth: "3 kg" } # expect: quantity-unreadable@40
  - { on: 2026-03-01, tree: G1, girth: "cm" } # expect: quantity-unreadable@40
  - { on: 2026-03-01, tree: G1, girth: "3,5 cm" } # expect: quantity-unreadable@40
  - { on: 2026-03-01, tree: G1, girth: "${endless}" } # expect: quantity-unreadable@40
  - { on: 2026-03-01, tree: G1, girth: 0 } # expect: quantity-range@40
`),
      }),
    );
  });
});

describe('words and links', () => {
  it('takes the words of the ledger for its crops beside early and main', () => {
    const { seasons } = ledgerOf(`counts:
  - { on: 2026-07-02, tree: G1, crop: breba, fruit: 1 }
  - { on: 2026-07-02, tree: G2, crop: early, fruit: 2 }
  - { on: 2026-09-02, tree: G1, crop: main, fruit: 3 }
`);
    expect(only(seasons).counts.map(({ crop }) => crop)).toEqual(['early', 'early', 'main']);
  });

  it('finds trees by numbers, typed as numbers or as text', () => {
    const ledger = soundLedger(
      ledgerWith({
        'trees.yaml':
          '12: { cultivar: amber, site: glass }\n"7": { cultivar: widow, site: yard }\n"0010": { cultivar: heron, site: yard }\n',
        'seasons/2026.yaml': seasonText(`counts:
  - { on: 2026-07-02, tree: 12, crop: main, fruit: 1 }
  - { on: 2026-07-02, tree: "12", crop: early, fruit: 2 }
  - { on: 2026-07-02, tree: 7, crop: main, fruit: 3 }
  - { on: 2026-07-02, tree: "0010", crop: main, fruit: 4 }
tastings:
  - on: 2026-07-24
    samples: [{ tree: 12, crop: main }, { tree: 7, crop: main }]
    scores:
      mara: { 12: { flavour: 8 }, "7": { flavour: 6 } }
    order:
      joss: [7, "12"]
`),
      }),
    );
    const season = only(ledger.seasons);
    expect(season.counts.map(({ tree }) => tree.id)).toEqual(['7', '0010', '12', '12']);
    const { scores, orders } = only(season.tastings);
    expect(scores.map(({ sample, value }) => [sample.tree.id, value])).toEqual([
      ['7', 6],
      ['12', 8],
    ]);
    expect(only(orders).ranks.map((tied) => tied.map(({ label }) => label))).toEqual([
      ['7'],
      ['12'],
    ]);
  });

  it('refuses keys that would change on the way: 007, 1.10, ~ and a blank', () => {
    for (const [key, rule] of [
      ['007', 'number-odd'],
      ['1.10', 'number-odd'],
      ['1.0', 'number-odd'],
      ['+3', 'number-odd'],
      ['~', 'key-wrong'],
      ['True', 'key-wrong'],
      ['', 'key-wrong'],
      ['__proto__', 'key-wrong'],
      ['"\\x5f_proto__"', 'key-wrong'],
    ]) {
      const mark = `# expect: ${rule}@${key?.startsWith('"') ? 2 : 1}`;
      expectRead(
        ledgerWith({ 'trees.yaml': `${key}: { cultivar: amber, site: glass } ${mark}\n` }),
      );
    }
    expectRead(ledgerWith({ 'trees.yaml': '1.5: { cultivar: amber, site: glass }\n' }));
  });

  it('takes words that mean something to JavaScript for plain names', () => {
    const ledger = soundLedger(
      ledgerWith({
        'trees.yaml':
          'constructor: { cultivar: amber, site: glass }\ntoString: { cultivar: widow, site: yard }\nhasOwnProperty: { cultivar: heron, site: yard }\n',
        'seasons/2026.yaml': seasonText(
          'counts:\n  - { on: 2026-07-02, tree: toString, crop: main, fruit: 1 }\n',
        ),
      }),
    );
    expect([...ledger.trees.keys()]).toEqual(['constructor', 'hasOwnProperty', 'toString']);
    expectRead(
      ledgerWith({
        'seasons/2026.yaml': seasonText(`counts:
  - { on: 2026-07-02, tree: valueOf, crop: main, fruit: 1 } # expect: tree-unknown@29
  - { on: 2026-07-02, tree: G1, crop: constructor, fruit: 1 } # expect: crop-unknown@39
  - { on: 2026-07-02, tree: G1, crop: main, fruit: 1, constructor: 2 } # expect: key-unknown@55
events:
  - { on: 2026-07-02, kind: toString } # expect: value-wrong@29
`),
      }),
    );
  });

  it('serves samples under blind labels, in scores and in orders', () => {
    const { seasons } = ledgerOf(`tastings:
  - on: 2026-07-24
    samples:
      - { tree: G1, crop: early, as: "417", ripeness: ripe, brix: 19.5 }
      - { tree: Y1, crop: early, as: 902 }
      - { tree: W1, crop: early }
    scores:
      mara: { "417": { sweetness: 8, flavour: 9.5 }, 902: { sweetness: 5 }, W1: { flavour: 1 } }
    order:
      mara: [417, ["902", W1]]
`);
    const tasting = only(only(seasons).tastings);
    expect(tasting.samples.map(({ label, tree }) => `${label} ${tree.id}`)).toEqual([
      '417 G1',
      '902 Y1',
      'W1 W1',
    ]);
    expect(
      tasting.scores.map(({ taster, sample, trait, value }) =>
        [taster.name, sample.tree.id, trait, value].join(' '),
      ),
    ).toEqual([
      'Mara G1 sweetness 8',
      'Mara G1 flavour 9.5',
      'Mara Y1 sweetness 5',
      'Mara W1 flavour 1',
    ]);
    expect(only(tasting.orders).ranks.map((tied) => tied.map(({ tree }) => tree.id))).toEqual([
      ['G1'],
      ['Y1', 'W1'],
    ]);
  });

  it('says which label a tree was served under', () => {
    const { diagnostics } = expectRead(
      ledgerWith({
        'seasons/2026.yaml': seasonText(`tastings:
  - on: 2026-07-24
    samples: [{ tree: G1, crop: early, as: "417" }, { tree: Y1, crop: early }]
    order:
      mara: [G1, Y1] # expect: order-stranger@14
`),
      }),
    );
    expect(diagnostics[0]?.advice).toBe('G1 was served here as 417: use that label');
  });
});

describe('dates', () => {
  it('may be partial for what happened before the ledger, and keep their own text', () => {
    const { trees } = soundLedger(
      ledgerWith({
        'trees.yaml':
          'G1: { cultivar: amber, site: glass, received: 2024-02, planted: 2024, removed: 2026-10-30 }\n',
      }),
    );
    expect(trees.get('G1')).toMatchObject({
      received: { text: '2024-02', earliest: '2024-02-01', latest: '2024-02-29' },
      planted: { text: '2024', earliest: '2024-01-01', latest: '2024-12-31' },
      removed: { text: '2026-10-30', earliest: '2026-10-30', latest: '2026-10-30' },
    });
    expectRead(
      ledgerWith({
        'trees.yaml': `G1: { cultivar: amber, site: glass, received: 2024-13 } # expect: date-unreal@47
G2: { cultivar: amber, site: glass, received: 2023-02-29 } # expect: date-unreal@47
G3: { cultivar: amber, site: glass, received: 24 } # expect: date-unreal@47
G4: { cultivar: amber, site: glass, received: "0000" } # expect: date-unreal@47
G5: { cultivar: amber, site: glass, received: spring } # expect: date-unreal@47
G6: { cultivar: amber, site: glass, received: 2024.5 } # expect: value-wrong@47
`,
      }),
    );
  });

  it('put weather south of the equator into the growing year that ends in June', () => {
    const south = `title: South trial
place: { latitude: -38 }
fruit: fig
traits: []
sites: { glass: { name: glasshouse, cover: glass }, yard: { name: wall, cover: open } }
`;
    expect(growingYear(2026, -38)).toEqual({ first: '2025-07-01', last: '2026-06-30' });
    const weather = 'date,tmin,tmax,rain\n2026-06-30,5,12,0\n2025-07-01,4,11,2\n';
    const ledger = soundLedger(ledgerWith({ 'ledger.yaml': south, 'weather/2026.csv': weather }));
    expect(ledger.weather.get(2026)?.map(({ date }) => date)).toEqual(['2025-07-01', '2026-06-30']);
    const early = weather.replace('2025-07-01,4', '2025-06-30,4');
    const read = readFiles(ledgerWith({ 'ledger.yaml': south, 'weather/2026.csv': early }));
    expect(told(read.diagnostics)).toEqual(['weather/2026.csv:3:1 weather-unreadable']);
  });
});

describe('a tree that moves', () => {
  it('stands at the new site from the day of the move on, over all seasons', () => {
    const ledger = soundLedger(
      ledgerWith({
        'seasons/2025.yaml': seasonText(
          `events:
  - { on: 2025-11-02, tree: G1, kind: move, site: glass }
  - { on: 2025-05-10, tree: G1, kind: move, site: yard }
`,
          2025,
        ),
        'seasons/2026.yaml': seasonText(
          'events:\n  - { on: 2026-05-09, tree: G1, kind: move, site: yard }\n',
        ),
      }),
    );
    const tree = ledger.trees.get('G1');
    const other = ledger.trees.get('Y1');
    if (tree === undefined || other === undefined) throw new Error('the trees are gone');
    const stands = (date: string) => siteOn(ledger, tree, day(date));
    expect(stands('2020-01-01')).toBe('glass');
    expect(stands('2025-05-09')).toBe('glass');
    expect(stands('2025-05-10')).toBe('yard');
    expect(stands('2025-11-01')).toBe('yard');
    expect(stands('2025-11-02')).toBe('glass');
    expect(stands('2026-05-08')).toBe('glass');
    expect(stands('2026-05-09')).toBe('yard');
    expect(stands('2030-01-01')).toBe('yard');
    expect(siteOn(ledger, other, day('2025-06-01'))).toBe('yard');
  });
});

describe('dates of trees', () => {
  it.each([
    ['spring 2022', 'write 2022'],
    ['4/2022', 'write 2022-04'],
    ['2022.11', 'write 2022-11'],
    ['14/2022', 'for example 2022, 2022-04 or 2026-07-24'],
    ['3/4/2022', 'for example 2022, 2022-04 or 2026-07-24'],
  ])('planted: %s is told what will do', (planted, advice) => {
    const { diagnostics } = readFiles({
      ...ledgerWith({}),
      'trees.yaml': `G1: { cultivar: amber, site: glass, planted: "${planted}" }\n`,
    });
    const [found] = diagnostics.filter(({ rule }) => rule === 'date-unreal');
    expect(found?.message).toContain('a year or a month will do: YYYY, YYYY-MM or YYYY-MM-DD');
    expect(found?.advice).toBe(advice);
  });
});
