import type { CropRecord } from '../measure/crop-record.ts';
import { selectRecords } from '../measure/crop-record.ts';
import type { By, RecordGroup } from '../measure/group-records.ts';
import { groupRecords } from '../measure/group-records.ts';
import type { YieldFigures } from '../measure/yield-figures.ts';
import { branchFigure, yieldFigures } from '../measure/yield-figures.ts';
import type { Ledger } from '../model/ledger.ts';
import { assembleReport } from './assemble-report.ts';
import { cell, countColumn, intervalColumns, numberColumn, shareColumn } from './columns.ts';
import { note } from './common-notes.ts';
import type { ReportRequest } from './report-request.ts';
import { rowsBy } from './report-request.ts';
import { rowCells, rowColumns } from './row-columns.ts';
import { sharedSpreadNotes } from './spread-notes.ts';
import { type SpreadRequest, spreadOfRows } from './spread-request.ts';
import type { Column, Note, Report, Row } from './table.ts';
import { counted, listed } from './words.ts';

/** What trees bore: load, fruit per branch, picked fruit and weight, yield efficiency. */
export function yieldReport(ledger: Ledger, request: SpreadRequest): Report {
  const by = rowsBy(request, ['tree']);
  const records = selectRecords(ledger, request.selection);
  const spreads = spreadOfRows(ledger, request, by, branchFigure);
  const told = groupRecords(ledger, records, by, true).map((group) => ({
    group,
    figures: yieldFigures(ledger, group.records, {
      confidence: request.confidence,
      trunkSeason: trunkSeason(ledger, request, by, group),
      spread: spreads.get(group.crops[0] ?? 'main'),
    }),
  }));
  return assembleReport(ledger, request, {
    report: 'yield',
    what: 'Yield',
    by,
    records,
    columns: columns(by, request.confidence),
    rows: told.map(({ group, figures }) => toRow(ledger, group, figures)),
    order: { blocks: ['crop'], key: 'fruitPerBranch' },
    notes: [
      ...methodNotes(
        told.map(({ figures }) => figures),
        spreads.size > 0,
      ),
      ...sharedSpreadNotes(spreads),
      seasonsNote(
        by,
        told.map(({ group }) => group),
      ),
      ...evidenceNotes(records),
    ],
  });
}

/** Trunks are taken as at the end of the last season that the row, or else the table, spans. */
function trunkSeason(
  ledger: Ledger,
  { selection }: ReportRequest,
  by: readonly By[],
  group: RecordGroup,
): number {
  if (by.includes('season')) return Math.max(...group.seasons);
  return selection.seasons?.length
    ? Math.max(...selection.seasons)
    : (ledger.seasons.at(-1)?.year ?? Math.max(...group.seasons));
}

function columns(by: readonly By[], confidence: number): Column[] {
  const perBranch = numberColumn('fruitPerBranch', 2, { label: 'Fruit/branch', drop: 0 });
  return [
    ...rowColumns(['tree', 'cultivar', 'site', 'season', 'crop'], by),
    countColumn('load', { label: 'Load', unit: 'fruit', drop: 2 }),
    countColumn('branches', { label: 'Branches', drop: 3 }),
    perBranch,
    ...intervalColumns(perBranch, ['fruitPerBranchLow', 'fruitPerBranchHigh'], confidence, 1),
    countColumn('picked', { label: 'Picked', unit: 'fruit', drop: 6 }),
    shareColumn('pickedShare', 0, { label: 'Picked share', drop: 8 }),
    numberColumn('pickedWeight', 0, { label: 'Picked weight', unit: 'g', drop: 4 }),
    numberColumn('weightPerBranch', 1, { label: 'Weight/branch', unit: 'g', drop: 10 }),
    numberColumn('trunkArea', 1, { label: 'Trunk area', unit: 'cm2', drop: 11 }),
    numberColumn('yieldEfficiency', 1, { label: 'Yield efficiency', unit: 'g/cm2', drop: 9 }),
    countColumn('trees', { label: 'Trees', drop: by.includes('tree') ? 12 : 7 }),
  ];
}

function toRow(ledger: Ledger, group: RecordGroup, figures: YieldFigures): Row {
  const { fruitPerBranch } = figures;
  return {
    ...rowCells(ledger, group),
    load: figures.load,
    branches: cell(figures.branches),
    fruitPerBranch: cell(fruitPerBranch?.value),
    fruitPerBranchLow: cell(fruitPerBranch?.low),
    fruitPerBranchHigh: cell(fruitPerBranch?.high),
    picked: figures.picked,
    pickedShare: cell(figures.pickedShare),
    pickedWeight: cell(figures.pickedWeight),
    weightPerBranch: cell(figures.weightPerBranch),
    trunkArea: cell(figures.trunkArea),
    yieldEfficiency: cell(figures.yieldEfficiency),
    trees: figures.trees,
  };
}

function methodNotes(rows: readonly YieldFigures[], isShared: boolean): Note[] {
  const single = rows.filter((row) => row.fruitPerBranch?.se === undefined).length;
  const interval = isShared
    ? ''
    : single === rows.length
      ? 'A row of one tree has no interval.'
      : 'The interval takes the tree as the unit (Cochran 1977); a row of one tree has none.';
  const notes = [
    `Load = the most fruit hanging at a count + what was picked or dropped before it. Fruit per branch = load / branches, of totals.${interval === '' ? '' : ` ${interval}`}`,
  ];
  if (rows.some((row) => row.yieldEfficiency !== undefined)) {
    notes.push(
      'Yield efficiency = picked weight of all seasons shown / trunk area by the latest girth (as the NC-140 trials do).',
    );
  }
  return notes.map((text) => note('method', text));
}

/** A tree of ten branches in one season and nine in the next has 19 in a row of both. */
function seasonsNote(by: readonly By[], groups: readonly RecordGroup[]): Note | undefined {
  const seasons = [...new Set(groups.filter(spansSeasons).flatMap((group) => [...group.seasons]))];
  if (seasons.length === 0) return undefined;
  const years = listed(seasons.toSorted((a, b) => a - b).map(String));
  return note(
    'evidence',
    `Load, branches, picked fruit and weight are added up over ${years}: branches counted in each season count each time. --by ${[...by, 'season'].join(',')} tells the seasons apart.`,
  );
}

function spansSeasons({ seasons }: RecordGroup): boolean {
  return new Set(seasons).size > 1;
}

function evidenceNotes(records: readonly CropRecord[]): Note[] {
  const trees = (which: (record: CropRecord) => boolean) =>
    listed([...new Set(records.filter(which).map((record) => record.tree.id))]);
  const unbranched = trees((record) => record.branches === undefined);
  const uncounted = trees((record) => !record.counted);
  const unpicked = trees((record) => record.picks.length === 0);
  return [
    unbranched &&
      `Branches not counted, at least once: ${unbranched}. Fruit per branch leaves that out.`,
    uncounted &&
      `Fruit not counted on the tree, at least once: ${uncounted}. The load is then what was picked and dropped, and may be too low.`,
    unpicked && `No picks of some crop, which reads as nothing picked: ${unpicked}.`,
    weightEvidence(records),
  ]
    .filter((text) => text !== '')
    .map((text) => note('evidence', text));
}

/** How far the picked weight is known, in words; empty where all of it was weighed. */
export function weightEvidence(records: readonly CropRecord[]): string {
  const total = (of: (record: CropRecord) => number) =>
    records.reduce((all, record) => all + of(record), 0);
  const unknown = total((record) => record.weights.unknown);
  const stretched = total((record) => record.weights.stretchedPicks);
  const parts = [
    unknown > 0
      ? `${unknown} of ${total((record) => record.picked)} fruit picked were not weighed: their rows have no picked weight.`
      : '',
    stretched > 0
      ? `The weight of ${counted(stretched, 'pick')} is that of the fruit weighed, stretched to all.`
      : '',
  ];
  return parts.filter((part) => part !== '').join(' ');
}
