import { describe, expect, it } from 'vitest';
import { buildLedger } from '../../../tests/support/build-ledger.ts';
import type { Ledger } from '../../model/ledger.ts';
import type { ReportRequest } from '../report-request.ts';
import type { Report } from '../table.ts';
import { cropsReport } from './crops-report.ts';
import { ripeningReport } from './ripening-report.ts';
import { soundnessReport } from './soundness-report.ts';
import { weightsReport } from './weights-report.ts';
import { yieldReport } from './yield-report.ts';

const ledger = buildLedger({
  cultivars: {
    amber: { name: 'Amber Lantern' },
    slate: { name: 'Slate Quay', perhaps: 'amber' },
    ferry: { name: 'Ferry Bell', bears: 'san-pedro' },
    twin: { name: 'Slate Quay' },
  },
  trees: {
    G1: { cultivar: 'amber', site: 'glass' },
    Y1: { cultivar: 'amber' },
    Y2: { cultivar: 'slate' },
    Y3: { cultivar: 'ferry' },
    Y4: { cultivar: 'twin' },
  },
  frost: { 2026: '2026-10-29' },
  trial: { standard: 'amber' },
  seasons: {
    2025: {
      picks: [
        { on: '2025-08-20', tree: 'G1', fruit: 10, weight: 400 },
        { on: '2025-09-09', tree: 'Y2', fruit: 4 },
      ],
    },
    2026: {
      counts: [
        { on: '2026-07-02', tree: 'G1', crop: 'early', fruit: 21, branches: 8 },
        { on: '2026-07-02', tree: 'Y1', crop: 'early', fruit: 3, branches: 2 },
        { on: '2026-07-02', tree: 'Y3', crop: 'early', fruit: 30, branches: 10 },
        { on: '2026-08-20', tree: 'Y2', fruit: 40 },
      ],
      picks: [
        { on: '2026-07-24', tree: 'G1', crop: 'early', weights: [50, 60, 70], split: 1 },
        { on: '2026-07-26', tree: 'Y3', crop: 'early', fruit: 20, weight: 900, bird: 5 },
        { on: '2026-08-29', tree: 'G1', fruit: 8, weight: 400 },
        { on: '2026-09-12', tree: 'Y2', fruit: 10, weights: [30, 32], mould: 1 },
        { on: '2026-09-02', tree: 'Y4', fruit: 2, weights: [80], sample: 'best' },
      ],
      growth: [{ on: '2026-03-01', tree: 'G1', girth: 15.7 }],
    },
  },
});

const ask = (rest: Partial<ReportRequest> = {}): ReportRequest => ({
  selection: {},
  by: [],
  confidence: 0.95,
  ...rest,
});
const keys = (report: Report) => report.columns.map((column) => column.key).join(' ');
const column = (report: Report, key: string) => report.rows.map((row) => row[key]);
const words = (report: Report) => report.notes.map((one) => one.text).join('\n');

const BUILDERS: readonly (readonly [string, (from: Ledger, request: ReportRequest) => Report])[] = [
  ['yield', yieldReport],
  ['weights', weightsReport],
  ['crops', cropsReport],
  ['soundness', soundnessReport],
  ['splits', (from, request) => soundnessReport(from, request, { after: 'water', withinDays: 2 })],
  ['ripening', ripeningReport],
];

describe('column keys', () => {
  it('are those of the contract', () => {
    expect(keys(yieldReport(ledger, ask()))).toBe(
      'tree cultivar site season crop load branches fruitPerBranch fruitPerBranchLow fruitPerBranchHigh picked pickedShare pickedWeight weightPerBranch trunkArea yieldEfficiency trees',
    );
    expect(keys(weightsReport(ledger, ask()))).toBe(
      'cultivar crop weighed fruit mean low high sd cv median q1 q3 min max trees',
    );
    expect(keys(cropsReport(ledger, ask()))).toBe(
      'cultivar earlyTrees earlyLoad earlyPicked earlyWeight earlyWeightAtLeast earlyShareOfWeight mainTrees mainLoad mainPicked mainWeight mainWeightAtLeast mainShareOfWeight',
    );
    expect(keys(soundnessReport(ledger, ask()))).toBe(
      'cultivar crop fruit sound share low high split bird insect animal mould unripe dropped',
    );
    expect(keys(ripeningReport(ledger, ask({ selection: { seasons: [2026] } })))).toBe(
      'cultivar crop first p10 p50 p90 last windowDays daysFromStandard degreeDays shareBeforeFrost soFar',
    );
    expect(keys(soundnessReport(ledger, ask(), { after: 'rain', withinDays: 2 }))).toBe(
      'cultivar crop fruitAfter splitAfter shareAfter fruitRest splitRest shareRest difference low high',
    );
  });

  it('of ripening have the season behind the crop where there are several', () => {
    expect(keys(ripeningReport(ledger, ask()))).toMatch(/^cultivar crop season first /);
  });

  it.each(BUILDERS)('of %s take in what rows are asked by', (_name, build) => {
    const all = keys(build(ledger, ask({ by: ['tree', 'site', 'season'] }))).split(' ');
    expect(all).toEqual(expect.arrayContaining(['tree', 'cultivar', 'site', 'season']));
    expect(new Set(all).size).toBe(all.length);
  });
});

describe.each(BUILDERS)('every report: %s', (_name, build) => {
  const requests = [
    ask(),
    ask({ by: ['tree', 'season'] }),
    ask({ by: ['site'], selection: { crops: ['main'] } }),
    ask({ selection: { cultivars: ['twin'] } }),
  ];

  it('has a cell for each column, finite or blank, and no other', () => {
    for (const report of requests.map((request) => build(ledger, request))) {
      expect(report.rows.length).toBeGreaterThan(0);
      for (const row of report.rows) {
        expect(Object.keys(row)).toEqual(report.columns.map((one) => one.key));
        for (const cell of Object.values(row)) {
          expect(cell === null || typeof cell === 'string' || Number.isFinite(cell)).toBe(true);
        }
      }
    }
  });

  it('says why it is empty', () => {
    const nothing = build(ledger, ask({ selection: { seasons: [1999] } }));
    expect(nothing.rows).toEqual([]);
    expect(words(nothing)).toBe('No counts, picks or drops for season 1999.');
    const apart = build(ledger, ask({ selection: { seasons: [2025], cultivars: ['ferry'] } }));
    expect(words(apart)).toBe(
      'No counts, picks or drops for season 2025, cultivar Ferry Bell together.',
    );
    const bare = buildLedger({ cultivars: {}, trees: {}, seasons: {} });
    expect(words(build(bare, ask()))).toBe(
      'The ledger has no counts, picks or drops yet: type them with pomary enter.',
    );
  });

  it('keeps the column of the upper end next to the lower', () => {
    const { columns } = build(ledger, ask());
    for (const [at, one] of columns.entries()) {
      if (one.upTo !== undefined) expect(columns[at + 1]?.key).toBe(one.upTo);
    }
  });

  it('echoes what was asked in the words of the command line', () => {
    const request = ask({
      selection: { crops: ['main'], sites: [], trees: ['Y2'] },
      by: ['cultivar'],
      top: 3,
      confidence: 0.57,
    });
    expect(build(ledger, request).selection).toMatchObject({
      crop: ['main'],
      tree: ['Y2'],
      by: ['cultivar'],
      top: 3,
      confidence: 57,
    });
    expect(build(ledger, request).selection).not.toHaveProperty('site');
  });
});

describe('yield', () => {
  it('stands by tree, each crop sorted by fruit per branch, blanks last', () => {
    const report = yieldReport(ledger, ask({ selection: { seasons: [2026] } }));
    expect(report.title).toBe('Yield by tree, 2026');
    expect(column(report, 'tree')).toEqual(['Y3', 'G1', 'Y1', 'G1', 'Y2', 'Y4']);
    // 30/10, 21/8 and 3/2. The main crop of G1 was
    // not counted, so its 8 fruit are told by the branches of the early crop.
    expect(column(report, 'fruitPerBranch')).toEqual([3, 2.625, 1.5, 1, null, null]);
  });

  it('by cultivar pools trees, and names what a row spans', () => {
    const report = yieldReport(
      ledger,
      ask({ by: ['cultivar'], selection: { cultivars: ['amber'] } }),
    );
    expect(report.rows[0]).toMatchObject({
      tree: 'G1, Y1',
      cultivar: 'Amber Lantern',
      site: 'south wall, glasshouse',
      season: '2026',
      crop: 'early',
      load: 24,
      branches: 10,
      fruitPerBranch: 2.4,
      trees: 2,
    });
    expect(report.rows[1]).toMatchObject({ season: '2025-2026', pickedWeight: 800 });
  });

  it('takes the trunk as at the end of the row or of the table', () => {
    const of = (by: ReportRequest['by'], seasons: number[]) =>
      column(yieldReport(ledger, ask({ by, selection: { seasons, trees: ['G1'] } })), 'trunkArea');
    expect(of(['tree'], [2025])).toEqual([null]);
    // Early and main crop of 2026, then the main crop of 2025, which has no figure to sort by.
    expect(of(['tree', 'season'], [2025, 2026])).toEqual([
      expect.any(Number),
      expect.any(Number),
      null,
    ]);
    expect(of(['tree'], [])).toEqual([expect.any(Number), expect.any(Number)]);
  });

  it('says what it rests on and what may mislead', () => {
    const text = words(yieldReport(ledger, ask({ by: ['cultivar'] })));
    expect(text).toContain('early = breba');
    expect(text).toContain('Branches not counted, at least once: G1, Y2 and Y4.');
    expect(text).toContain('Fruit not counted on the tree, at least once: G1, Y2 and Y4.');
    expect(text).toContain(
      'Bore a crop of which no pick was written down, so none counts as picked: Y1.',
    );
    expect(text).toContain('6 of 57 fruit picked were not weighed');
    expect(text).toContain('The weight of 1 pick is that of the fruit weighed, stretched to all.');
    expect(text).toContain('Cultivars differ in sites (');
    expect(text).toContain('Names in doubt: Slate Quay (slate) (perhaps Amber Lantern).');
  });

  it('calls no tree one that bore and was not picked, where it bore nothing', () => {
    const counts = [
      { on: '2026-07-02', tree: 'G1', crop: 'early' as const, fruit: 0, branches: 8 },
      { on: '2026-07-02', tree: 'Y2', crop: 'early' as const, fruit: 4, branches: 8 },
    ];
    const empty = buildLedger({
      cultivars: { amber: { name: 'Amber Lantern' }, slate: { name: 'Slate Quay' } },
      trees: { G1: { cultivar: 'amber' }, Y2: { cultivar: 'slate' } },
      seasons: { 2026: { counts } },
    });
    expect(words(yieldReport(empty, ask()))).toContain('so none counts as picked: Y2.');
    expect(words(cropsReport(empty, ask()))).toContain('so none counts as picked: Y2.');
  });

  it('keeps quiet about sites where rows stand for them', () => {
    expect(words(yieldReport(ledger, ask({ by: ['cultivar', 'site', 'season'] })))).not.toContain(
      'differ',
    );
  });

  it('shows people no interval where no row has one', () => {
    const hidden = (by: ReportRequest['by']) =>
      yieldReport(ledger, { ...ask({ by }), spread: 'own' })
        .columns.filter((one) => one.machineOnly)
        .map((one) => one.key);
    expect(hidden(['tree'])).toContain('fruitPerBranchLow');
    expect(hidden(['cultivar'])).not.toContain('fruitPerBranchLow');
    expect(hidden(['cultivar'])).toContain('tree');
  });

  it('cuts after sorting and says so', () => {
    const report = yieldReport(ledger, ask({ sort: 'load', top: 2 }));
    expect(column(report, 'load')).toEqual([44, 30]);
    expect(words(report)).toContain('The first 2 rows are shown; 4 rows left out.');
  });
});

describe('weights', () => {
  it('leave out rows without a picked fruit, and keep the best out of means', () => {
    const request = ask({ selection: { seasons: [2026] } });
    const report = weightsReport(ledger, { ...request, spread: 'own' });
    expect(column(report, 'cultivar')).toEqual([
      'Amber Lantern',
      'Ferry Bell',
      'Amber Lantern',
      'Slate Quay (slate)',
      'Slate Quay (twin)',
    ]);
    expect(column(report, 'mean')).toEqual([60, 45, 50, 31, null]);
    expect(column(report, 'weighed')).toEqual([3, 20, 8, 2, 1]);
    expect(words(report)).toContain('1 fruit picked out as the best is kept out of the means');
    expect(words(report)).toContain('4 rows rest on one tree');
    expect(words(report)).toContain('1 row has no mean');
    const picks = [
      { on: '2026-08-20', tree: 'G1', weights: [60, 50] },
      { on: '2026-08-22', tree: 'G1', fruit: 10, weight: 300 },
    ];
    const partly = buildLedger({
      cultivars: { amber: { name: 'Amber Lantern' } },
      trees: { G1: { cultivar: 'amber' } },
      seasons: { 2026: { picks } },
    });
    expect(words(weightsReport(partly, request))).toContain(
      'In 1 row only some fruit were weighed one by one',
    );
  });
});

describe('crops', () => {
  it('stand by the weight of both, unknown weights last', () => {
    const report = cropsReport(ledger, ask({ selection: { seasons: [2026] } }));
    expect(column(report, 'cultivar')).toEqual([
      'Ferry Bell',
      'Amber Lantern',
      'Slate Quay (slate)',
      'Slate Quay (twin)',
    ]);
    expect(column(report, 'earlyWeight')).toEqual([900, 180, 0, 0]);
    expect(column(report, 'mainLoad')).toEqual([null, 8, 40, 2]);
    expect(words(report)).toContain('expect no main crop of Ferry Bell');
  });

  it('are blank where they were not asked for', () => {
    const report = cropsReport(ledger, ask({ selection: { crops: ['main'] } }));
    expect(column(report, 'earlyTrees')).toEqual([null, null, null]);
    expect(column(report, 'mainShareOfWeight')).toEqual([null, null, null]);
    expect(column(report, 'mainTrees')).toEqual([1, 1, 1]);
  });
});

describe('soundness', () => {
  it('counts a spoiled fruit once and sorts by the share', () => {
    const report = soundnessReport(ledger, ask({ selection: { crops: ['early'] } }));
    expect(column(report, 'cultivar')).toEqual(['Ferry Bell', 'Amber Lantern']);
    expect(report.rows[0]).toMatchObject({ fruit: 20, sound: 15, share: 0.75, bird: 5, split: 0 });
  });

  it('drops what spoiled least first where room is short', () => {
    const report = soundnessReport(ledger, ask());
    const causes = report.columns
      .filter(({ key }) => ['split', 'bird', 'insect', 'animal', 'mould', 'unripe'].includes(key))
      .toSorted((a, b) => a.drop - b.drop)
      .map(({ key }) => key);
    expect(causes).toEqual(['bird', 'split', 'mould', 'insect', 'animal', 'unripe']);
  });

  it('after rain leaves out days without weather, and says so', () => {
    const report = soundnessReport(ledger, ask(), { after: 'rain', withinDays: 1, rainFrom: 5 });
    expect(report.title).toMatch(/^Splits within 1 day after rain, 20/);
    expect(report.selection).toMatchObject({ after: 'rain', within: 1, rainFrom: 5 });
    expect(words(report)).toContain('57 fruit are left out');
    expect(words(report)).toContain(
      'No rain falls under cover, and its fruit count here all the same: glasshouse.',
    );
    expect(words(report)).toContain('5 mm of rain or more');
  });
});

describe('ripening', () => {
  it('tells days from the standard in the same season and crop', () => {
    const report = ripeningReport(ledger, ask({ selection: { crops: ['main'] } }));
    expect(
      report.rows.map((row) => [row['season'], row['cultivar'], row['daysFromStandard']]),
    ).toEqual([
      ['2025', 'Amber Lantern', 0],
      ['2025', 'Slate Quay (slate)', 20],
      ['2026', 'Amber Lantern', 0],
      ['2026', 'Slate Quay (twin)', 4],
      ['2026', 'Slate Quay (slate)', 14],
    ]);
    expect(words(report)).toContain('No first frost is written down for 2025.');
    expect(words(report)).toContain(
      'No degree-days for 2025 to 2026: no temperatures from the beginning of the growing year.',
    );
  });

  it('finds the standard even where another cultivar is asked for', () => {
    const selection = { crops: ['main' as const], cultivars: ['slate'], seasons: [2026] };
    expect(column(ripeningReport(ledger, ask({ selection })), 'daysFromStandard')).toEqual([14]);
  });

  it('compares with the standard at the same site where rows stand for sites', () => {
    const request = ask({
      by: ['cultivar', 'site'],
      selection: { crops: ['main'], seasons: [2026] },
    });
    const report = ripeningReport(ledger, request);
    expect(column(report, 'daysFromStandard')).toEqual([0, null, null]);
    expect(words(report)).toContain(
      'No days from the standard where none of its fruit was picked.',
    );
  });

  it('before frost is a share of the load', () => {
    const selection = { crops: ['main' as const], cultivars: ['slate'], seasons: [2026] };
    expect(column(ripeningReport(ledger, ask({ selection })), 'shareBeforeFrost')).toEqual([0.25]);
  });
});

describe('a row of several seasons', () => {
  const two = buildLedger({
    cultivars: { amber: { name: 'Amber Lantern' } },
    trees: { G1: { cultivar: 'amber' } },
    seasons: {
      2025: { counts: [{ on: '2025-08-20', tree: 'G1', fruit: 12, branches: 10 }] },
      2026: { counts: [{ on: '2026-08-20', tree: 'G1', fruit: 18, branches: 9 }] },
    },
  });
  const texts = (by: ReportRequest['by']) =>
    yieldReport(two, ask({ by })).notes.map(({ text }) => text);

  it('says what is added up over them', () => {
    expect(yieldReport(two, ask()).rows[0]).toMatchObject({ branches: 19, load: 30 });
    expect(texts([])).toContain(
      'Load, branches, picked fruit and weight are added up over 2025 and 2026: branches counted in each season count each time. --by tree,season tells the seasons apart.',
    );
    expect(texts(['tree', 'season']).join(' ')).not.toContain('added up over');
  });
});

it('a weight that is added up reads as it does on paper', () => {
  const typed = buildLedger({
    cultivars: { amber: { name: 'Amber Lantern' } },
    trees: { G1: { cultivar: 'amber' } },
    seasons: {
      2026: { picks: [{ on: '2026-08-20', tree: 'G1', weights: [65.9, 58.1, 55.6] }] },
    },
  });
  expect(yieldReport(typed, ask()).rows[0]).toMatchObject({ pickedWeight: 179.6 });
});
