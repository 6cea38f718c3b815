import type { CropRecord } from '../../measure/crop-record.ts';
import { selectRecords } from '../../measure/crop-record.ts';
import type { By } from '../../measure/group-records.ts';
import { groupRecords } from '../../measure/group-records.ts';
import type { SplitFigures } from '../../measure/split-figures.ts';
import { splitFigures } from '../../measure/split-figures.ts';
import type { WettingOptions } from '../../measure/wet-days.ts';
import { RAIN_FROM, wettingBefore } from '../../measure/wet-days.ts';
import type { Ledger } from '../../model/ledger.ts';
import { assembleReport } from '../assemble-report.ts';
import { cell, countColumn, intervalColumns, shareColumn } from '../columns.ts';
import { note, shownNote } from '../common-notes.ts';
import type { ReportRequest } from '../report-request.ts';
import { rowsBy } from '../report-request.ts';
import { rowCells, rowColumns } from '../row-columns.ts';
import type { Cell, Column, Note, Report, Row } from '../table.ts';
import { counted, listed } from '../words.ts';

/** Splits of fruit picked soon after rain or watering against the rest. */
export function splitReport(
  ledger: Ledger,
  request: ReportRequest,
  wetting: WettingOptions,
): Report {
  const by = rowsBy(request, ['cultivar']);
  const records = selectRecords(ledger, request.selection);
  const wasWetted = wettingBefore(ledger, wetting);
  const told = groupRecords(ledger, records, by, true)
    .map((group) => ({
      group,
      figures: splitFigures(group.records, wasWetted, request.confidence),
    }))
    .filter(({ figures }) => figures.after.fruit + figures.rest.fruit + figures.unknown > 0);
  const report = assembleReport(ledger, request, {
    report: 'soundness',
    what: `Splits within ${counted(wetting.withinDays, 'day')} after ${words(wetting)}`,
    by,
    records,
    columns: columns(by, wetting, request.confidence),
    rows: told.map(({ group, figures }) => toRow(rowCells(ledger, group), figures)),
    order: { blocks: ['crop'], key: 'difference' },
    notes: [
      methodNote(wetting),
      missingNote(told.map(({ figures }) => figures)),
      coverNote(ledger, wetting, records),
    ],
    ifNoRows: 'No fruit was picked in this selection.',
  });
  const { after, withinDays, rainFrom } = wetting;
  const asked = { after, within: withinDays, ...(rainFrom === undefined ? {} : { rainFrom }) };
  return { ...report, selection: { ...report.selection, ...asked } };
}

function words({ after }: WettingOptions): string {
  return after === 'rain' ? 'rain' : 'watering';
}

function columns(by: readonly By[], wetting: WettingOptions, confidence: number): Column[] {
  const wet = words(wetting);
  const difference = shareColumn('difference', 0, { label: 'Difference', drop: 0 });
  return [
    ...rowColumns(['cultivar', 'crop'], by),
    countColumn('fruitAfter', { label: `Picked after ${wet}`, unit: 'fruit', drop: 3 }),
    countColumn('splitAfter', { label: `Split after ${wet}`, unit: 'fruit', drop: 5 }),
    shareColumn('shareAfter', 0, { label: `Split share after ${wet}`, drop: 2 }),
    countColumn('fruitRest', { label: 'Picked otherwise', unit: 'fruit', drop: 3 }),
    countColumn('splitRest', { label: 'Split otherwise', unit: 'fruit', drop: 5 }),
    shareColumn('shareRest', 0, { label: 'Split share otherwise', drop: 2 }),
    difference,
    ...intervalColumns(difference, ['low', 'high'], confidence, 1),
  ];
}

function toRow(what: Readonly<Record<string, Cell>>, figures: SplitFigures): Row {
  return {
    ...what,
    fruitAfter: figures.after.fruit,
    splitAfter: figures.after.split,
    shareAfter: cell(figures.after.share),
    fruitRest: figures.rest.fruit,
    splitRest: figures.rest.split,
    shareRest: cell(figures.rest.share),
    difference: cell(figures.difference),
    low: cell(figures.low),
    high: cell(figures.high),
  };
}

function methodNote(wetting: WettingOptions): Note {
  const { after, withinDays, rainFrom = RAIN_FROM } = wetting;
  const days = withinDays === 0 ? '' : ` or on the ${counted(withinDays, 'day')} before`;
  const when =
    after === 'rain'
      ? `${rainFrom} mm of rain or more fell on the day of the pick${days}`
      : `water was given to the tree, its site or the whole trial on the day of the pick${days}`;
  return note(
    'method',
    `After ${words(wetting)}: ${when}. Difference = split share after - split share otherwise; interval: Newcombe 1998, which takes fruit as independent.`,
  );
}

function missingNote(rows: readonly SplitFigures[]): Note | undefined {
  const unknown = rows.reduce((sum, row) => sum + row.unknown, 0);
  return unknown === 0
    ? undefined
    : shownNote(
        'evidence',
        `${unknown} fruit are left out: the rain of some of these days is missing.`,
      );
}

function coverNote(
  ledger: Ledger,
  { after }: WettingOptions,
  records: readonly CropRecord[],
): Note | undefined {
  const stood = new Set(records.map((record) => record.site));
  const covered = [...ledger.trial.sites.values()].filter(
    ({ key, cover }) => stood.has(key) && cover !== 'open',
  );
  return after === 'water' || covered.length === 0
    ? undefined
    : shownNote(
        'caution',
        `No rain falls under cover, and its fruit count here all the same: ${listed(covered.map(({ name }) => name))}. --site parts them.`,
      );
}
