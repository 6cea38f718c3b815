import type { Column, Report, Row } from '../../src/report/table.ts';

/** An invented report with a column of every kind, for the tests of the renderers. */
export function sampleReport(changes: Partial<Report> = {}): Report {
  return {
    report: 'yield',
    title: 'Fruit set and picked by tree, early crop 2026',
    ledgerTitle: 'Tidewrack Lane fig trial',
    selection: { season: [2026], crop: 'early' },
    columns: SAMPLE_COLUMNS,
    rows: SAMPLE_ROWS,
    notes: [
      {
        kind: 'method',
        text: 'Load is the most that hung on the tree together with what had been picked or dropped before; fruit a branch is load over branches, unrounded until here.',
      },
      {
        kind: 'evidence',
        text: 'Four trees, one season; an interval needs two trees of a cultivar.',
      },
      {
        kind: 'caution',
        text: 'Trees under glass and trees outdoors stand in one table; the difference between them may be the site and not the cultivar.',
      },
    ],
    ...changes,
  };
}

const SAMPLE_COLUMNS: readonly Column[] = [
  { key: 'tree', label: 'Tree', kind: 'text', drop: 0 },
  { key: 'cultivar', label: 'Cultivar', kind: 'text', drop: 0 },
  { key: 'site', label: 'Site', kind: 'text', drop: 5 },
  { key: 'season', label: 'Season', kind: 'integer', drop: 6 },
  { key: 'load', label: 'Load', unit: 'fruit', kind: 'integer', drop: 1 },
  { key: 'branches', label: 'Branches', kind: 'integer', drop: 2 },
  { key: 'fruitPerBranch', label: 'Fruit per branch', kind: 'number', digits: 2, drop: 0 },
  {
    ...{ key: 'fruitPerBranchLow', label: '95% interval', kind: 'number', digits: 2, drop: 3 },
    upTo: 'fruitPerBranchHigh',
  },
  { key: 'fruitPerBranchHigh', label: 'upper end', kind: 'number', digits: 2, drop: 3 },
  { key: 'pickedShare', label: 'Picked', kind: 'share', digits: 0, drop: 4 },
  { key: 'pickedWeight', label: 'Picked weight', unit: 'g', kind: 'number', digits: 0, drop: 3 },
  { key: 'trunkArea', label: 'Trunk area', unit: 'cm2', kind: 'number', digits: 1, drop: 8 },
  {
    ...{ key: 'yieldEfficiency', label: 'Yield efficiency', unit: 'g/cm2', kind: 'number' },
    ...{ digits: 1, drop: 7 },
  },
  { key: 'treeKey', label: 'Tree key', kind: 'text', drop: 9, machineOnly: true },
];

const SAMPLE_ROWS: readonly Row[] = [
  row('G3', 'Amber Lantern', 'glasshouse', 21, 8, 1.95, 3.3, 0.952, 1114, 16.05),
  row('Y1', 'Amber Lantern', 'south wall', 12, 6, 0.8, 12.25, 0.75, 430.5, 9.9),
  row('P2', 'Black Harbour Late', 'pots by the shed', 4, 7, null, null, 0.5, 61, null),
  row('Y2', '日本 Saltmarsh', 'south wall', 0, 5, null, null, null, null, 8.25),
];

function row(
  tree: string,
  cultivar: string,
  site: string,
  load: number,
  branches: number,
  low: number | null,
  high: number | null,
  pickedShare: number | null,
  pickedWeight: number | null,
  trunkArea: number | null,
): Row {
  return {
    ...{ tree, cultivar, site, season: 2026, load, branches, fruitPerBranch: load / branches },
    ...{ fruitPerBranchLow: low, fruitPerBranchHigh: high, pickedShare, pickedWeight, trunkArea },
    yieldEfficiency: pickedWeight === null || trunkArea === null ? null : pickedWeight / trunkArea,
    treeKey: tree.toLowerCase(),
  };
}
