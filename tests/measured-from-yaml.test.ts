// From what a grower types to the figures in a table, without anything in between left out.
import { expect, test } from 'vitest';
import type { Ledger } from '../src/model/ledger.ts';
import { readLedger } from '../src/reading/read-ledger.ts';
import { cropsReport } from '../src/report/measured/crops-report.ts';
import { ripeningReport } from '../src/report/measured/ripening-report.ts';
import { soundnessReport } from '../src/report/measured/soundness-report.ts';
import { weightsReport } from '../src/report/measured/weights-report.ts';
import { yieldReport } from '../src/report/measured/yield-report.ts';
import type { ReportRequest } from '../src/report/report-request.ts';

const FILES = {
  'ledger.yaml': `
title: Tidewrack Lane fig trial
fruit: fig
crops: { early: breba, main: main }
traits: [flavour]
tasters: { mara: Mara }
sites: { glass: { name: glasshouse, cover: glass }, yard: { name: south wall, cover: open } }
frost: { 2026: 2026-10-29 }
degree_days: { base: 10, method: cut }
`,
  'cultivars.yaml': `
amber-lantern: { name: Amber Lantern, bears: common }
`,
  'trees.yaml': `
G3: { cultivar: amber-lantern, site: glass }
`,
  'seasons/2026.yaml': `
season: 2026
counts:
  - { on: 2026-07-22, tree: G3, crop: breba, fruit: 19, branches: 8 }
picks:
  - { on: 2026-07-24, tree: G3, crop: early, weights: [52.4, 47.0, 61.3], split: 1 }
  - { on: 2026-07-29, tree: G3, crop: early, fruit: 11, weight: 1.5 lb, bird: 2, note: wet week }
drops:
  - { on: 2026-07-20, tree: G3, crop: early, fruit: 2 }
growth:
  - { on: 2026-03-01, tree: G3, girth: 142 mm }
events:
  - { on: 2026-07-28, site: glass, kind: water }
`,
  'weather/2026.csv': 'date,tmin,tmax,rain\n2026-01-01,4,20,0\n',
};

function read(): Ledger {
  const files = Object.entries(FILES).map(([path, text]) => {
    const bytes = new TextEncoder().encode(text.trimStart());
    return { path, bytes, size: bytes.length };
  });
  const { ledger, diagnostics } = readLedger(files);
  expect(diagnostics).toEqual([]);
  if (ledger === undefined) throw new Error('no ledger');
  return ledger;
}

const ledger = read();
const request: ReportRequest = { selection: {}, by: [], confidence: 0.95 };
/** 52.4 + 47.0 + 61.3 g, and 1.5 lb of 453.59237 g each. */
const WEIGHT = 160.7 + 680.388555;

test('yield', () => {
  const [row] = yieldReport(ledger, request).rows;
  // 19 hung on 22 July and 2 had dropped before: 21 fruit on 8 branches.
  expect(row).toMatchObject({ tree: 'G3', site: 'glasshouse', season: '2026', crop: 'early' });
  expect(row).toMatchObject({ load: 21, branches: 8, fruitPerBranch: 2.625, picked: 14 });
  expect(row?.['pickedShare']).toBeCloseTo(14 / 21, 14);
  expect(row?.['pickedWeight']).toBeCloseTo(WEIGHT, 10);
  expect(row?.['trunkArea']).toBeCloseTo((14.2 * 14.2) / (4 * Math.PI), 12);
});

test('weights', () => {
  const [row] = weightsReport(ledger, request).rows;
  expect(row).toMatchObject({ weighed: 14, fruit: 14, median: 52.4, min: 47, max: 61.3, trees: 1 });
  expect(row?.['mean']).toBeCloseTo(WEIGHT / 14, 12);
});

test('crops', () => {
  const [row] = cropsReport(ledger, request).rows;
  expect(row).toMatchObject({ earlyLoad: 21, earlyShareOfWeight: 1, mainTrees: 0, mainLoad: null });
});

test('soundness, and splits after watering', () => {
  const [row] = soundnessReport(ledger, request).rows;
  expect(row).toMatchObject({ fruit: 14, sound: 11, split: 1, bird: 2, dropped: 2 });
  const wetting = { after: 'water', withinDays: 1 } as const;
  const [split] = soundnessReport(ledger, request, wetting).rows;
  expect(split).toMatchObject({ fruitAfter: 11, splitAfter: 0, fruitRest: 3, splitRest: 1 });
});

test('ripening', () => {
  const [row] = ripeningReport(ledger, request).rows;
  expect(row).toMatchObject({ first: '2026-07-24', p10: '2026-07-24', p50: '2026-07-29' });
  expect(row).toMatchObject({ windowDays: 5, degreeDays: null, daysFromStandard: null });
  expect(row?.['shareBeforeFrost']).toBeCloseTo(14 / 21, 14);
});
