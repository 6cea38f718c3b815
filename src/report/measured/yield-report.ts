import type { CropRecord } from '../../measure/crop-record.ts';
import { selectRecords } from '../../measure/crop-record.ts';
import { groupBy } from '../../measure/group-by.ts';
import { BYS, type By, groupRecords, type RecordGroup } from '../../measure/group-records.ts';
import type { YieldFigures } from '../../measure/yield-figures.ts';
import { BRANCH_FIGURE, yieldFigures } from '../../measure/yield-figures.ts';
import { CROPS, type Crop, type Ledger } from '../../model/ledger.ts';
import { assembleReport } from '../assemble-report.ts';
import { cell, countColumn, intervalColumns, numberColumn, shareColumn } from '../columns.ts';
import { note, shownNote } from '../common-notes.ts';
import { cropWord } from '../crop-words.ts';
import type { ReportRequest } from '../report-request.ts';
import { rowsBy } from '../report-request.ts';
import { rowCells, rowColumns } from '../row-columns.ts';
import type { Column, Note, Report, Row } from '../table.ts';
import { counted, listed, sentence, yearsInWords } from '../words.ts';
import { type SpreadRequest, sharedSpreadNotes, spreadOfRows } from './spread-request.ts';

/** What trees bore: load, fruit per branch, picked fruit and weight, yield efficiency. */
export function yieldReport(ledger: Ledger, request: SpreadRequest): Report {
  const by = rowsBy(request, ['tree']);
  const records = selectRecords(ledger, request.selection);
  const spreads = spreadOfRows(ledger, request, by, BRANCH_FIGURE);
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
    screen: sideBySide(ledger, request, by, told),
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

interface Told {
  readonly group: RecordGroup;
  readonly figures: YieldFigures;
}

/** Both crops beside each other, a row less for each that bears both; undefined where one crop was asked for. */
function sideBySide(
  ledger: Ledger,
  { selection, sort, top, confidence }: ReportRequest,
  by: readonly By[],
  told: readonly Told[],
): Report['screen'] {
  const crops = CROPS.filter((crop) => told.some(({ group }) => group.crops.includes(crop)));
  if (crops.length < 2 || selection.crops?.length === 1) return undefined;
  if (sort !== undefined || top !== undefined) return undefined;
  const rows = [
    ...groupBy(told, ({ group }) => JSON.stringify(by.map((key) => rowCells(ledger, group)[key]))),
  ];
  return {
    columns: [
      ...rowColumns(BYS, by),
      ...CROPS.flatMap((crop) => bothColumns(ledger, crop, confidence)),
      numberColumn('pickedWeight', 0, { label: 'Picked weight', unit: 'g', drop: 3 }),
    ],
    rows: rows
      .map(([, own]) => bothRow(ledger, own))
      .toSorted((a, b) => perBranchOfBoth(b) - perBranchOfBoth(a)),
  };
}

function bothColumns(ledger: Ledger, crop: Crop, confidence: number): Column[] {
  const label = (what: string) => `${sentence(cropWord(ledger, crop))} ${what}`;
  const perBranch = numberColumn(`${crop}PerBranch`, 2, { label: label('per branch'), drop: 0 });
  return [
    countColumn(`${crop}Load`, { label: label('load'), drop: 1 }),
    perBranch,
    ...intervalColumns(perBranch, [`${crop}Low`, `${crop}High`], confidence, 2),
  ];
}

function bothRow(ledger: Ledger, own: readonly Told[]): Row {
  const weights = own.map(({ figures }) => figures.pickedWeight);
  const known = weights.filter((weight) => weight !== undefined);
  return {
    ...(own[0] === undefined ? {} : rowCells(ledger, own[0].group)),
    ...Object.fromEntries(
      own.flatMap(({ group, figures: { load, fruitPerBranch } }) => {
        const crop = group.crops[0];
        return [
          [`${crop}Load`, load],
          [`${crop}PerBranch`, cell(fruitPerBranch?.value)],
          [`${crop}Low`, cell(fruitPerBranch?.low)],
          [`${crop}High`, cell(fruitPerBranch?.high)],
        ];
      }),
    ),
    pickedWeight:
      known.length < weights.length ? null : known.reduce((all, weight) => all + weight, 0),
  };
}

function perBranchOfBoth(row: Row): number {
  return CROPS.reduce((all, crop) => all + Number(row[`${crop}PerBranch`] ?? 0), 0);
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
    ...rowColumns([...BYS, 'crop'], by),
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
  return shownNote(
    'evidence',
    `Load, branches, picked fruit and weight are added up over ${years}: branches counted in each season count each time. --by ${[...by, 'season'].join(',')} tells the seasons apart.`,
    `Added up over ${yearsInWords(seasons)}, branches too: --by ${[...by, 'season'].join(',')} tells years apart.`,
  );
}

function spansSeasons({ seasons }: RecordGroup): boolean {
  return new Set(seasons).size > 1;
}

/** Trees whose fruit went unpicked, or was picked and not written down; empty where there are none. */
export function unpickedEvidence(records: readonly CropRecord[]): string {
  const bare = records.filter(({ picks, load }) => picks.length === 0 && load.fruit > 0);
  const trees = listed([...new Set(bare.map(({ tree }) => tree.id))]);
  return (
    trees && `Bore a crop of which no pick was written down, so none counts as picked: ${trees}.`
  );
}

function evidenceNotes(records: readonly CropRecord[]): Note[] {
  const trees = (which: (record: CropRecord) => boolean) =>
    listed([...new Set(records.filter(which).map((record) => record.tree.id))]);
  const unbranched = trees((record) => record.branches === undefined);
  const uncounted = trees((record) => !record.counted);
  return [
    unbranched &&
      `Branches not counted, at least once: ${unbranched}. Fruit per branch leaves that out.`,
    uncounted &&
      `Fruit not counted on the tree, at least once: ${uncounted}. The load is then what was picked and dropped, and may be too low.`,
    unpickedEvidence(records),
    weightEvidence(records),
  ]
    .filter((text) => text !== '')
    .map((text) => shownNote('evidence', text));
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
