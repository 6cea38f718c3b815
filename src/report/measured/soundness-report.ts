import { selectRecords } from '../../measure/crop-record.ts';
import type { By } from '../../measure/group-records.ts';
import { groupRecords } from '../../measure/group-records.ts';
import type { SoundnessFigures } from '../../measure/soundness-figures.ts';
import { soundnessFigures } from '../../measure/soundness-figures.ts';
import { total } from '../../measure/total.ts';
import type { WettingOptions } from '../../measure/wet-days.ts';
import { DEFECTS, type Defect } from '../../model/entries.ts';
import type { Ledger } from '../../model/ledger.ts';
import { assembleReport } from '../assemble-report.ts';
import { cell, countColumn, intervalColumns, shareColumn } from '../columns.ts';
import { note, shownNote } from '../common-notes.ts';
import type { ReportRequest } from '../report-request.ts';
import { rowsBy } from '../report-request.ts';
import { rowCells, rowColumns } from '../row-columns.ts';
import type { Cell, Column, Report, Row } from '../table.ts';
import { sentence } from '../words.ts';
import { splitReport } from './split-report.ts';

/**
 * How much of the picked fruit had nothing wrong, and what was wrong with the rest; with `wetting`,
 * splits of fruit picked soon after rain or watering against the rest.
 */
export function soundnessReport(
  ledger: Ledger,
  request: ReportRequest,
  wetting?: WettingOptions | undefined,
): Report {
  if (wetting !== undefined) return splitReport(ledger, request, wetting);
  const by = rowsBy(request, ['cultivar']);
  const records = selectRecords(ledger, request.selection);
  const told = groupRecords(ledger, records, by, true)
    .map((group) => ({ group, figures: soundnessFigures(group.records, request.confidence) }))
    .filter(({ figures }) => figures.fruit + figures.dropped > 0);
  return assembleReport(ledger, request, {
    report: 'soundness',
    what: 'Soundness',
    by,
    records,
    columns: columns(
      by,
      request.confidence,
      told.map(({ figures }) => figures),
    ),
    rows: told.map(({ group, figures }) => toRow(rowCells(ledger, group), figures)),
    order: { blocks: ['crop'], key: 'share' },
    notes: [
      note(
        'method',
        'Share = fruit without a defect / fruit picked; a spoiled fruit counts once, under its worst defect. Dropped fruit are not in it. Interval: Wilson 1927.',
      ),
      shownNote(
        'evidence',
        'The interval takes fruit as independent: fruit of one tree and one day are not, so it is rather too narrow.',
        'Fruit of one tree and one day share their weather: the intervals are rather too narrow.',
      ),
    ],
    ifNoRows: 'No fruit was picked or dropped in this selection.',
  });
}

function columns(
  by: readonly By[],
  confidence: number,
  figures: readonly SoundnessFigures[],
): Column[] {
  const share = shareColumn('share', 0, { label: 'Sound share', drop: 0 });
  return [
    ...rowColumns(['cultivar', 'crop'], by),
    countColumn('fruit', { label: 'Picked', unit: 'fruit', drop: 2 }),
    countColumn('sound', { label: 'Sound', unit: 'fruit', drop: 5 }),
    share,
    ...intervalColumns(share, ['low', 'high'], confidence, 1),
    ...DEFECTS.map((defect) =>
      countColumn(defect, { label: sentence(defect), drop: 3 + worseThan(defect, figures) / 10 }),
    ),
    countColumn('dropped', { label: 'Dropped', unit: 'fruit', drop: 6 }),
  ];
}

/** How many defects spoiled more fruit: where room is short, what spoiled most is told. */
function worseThan(defect: Defect, figures: readonly SoundnessFigures[]): number {
  const spoiled = (one: Defect) => total(figures, ({ defects }) => defects[one]);
  return DEFECTS.filter((one) => spoiled(one) > spoiled(defect)).length;
}

function toRow(what: Readonly<Record<string, Cell>>, figures: SoundnessFigures): Row {
  return {
    ...what,
    fruit: figures.fruit,
    sound: figures.sound,
    share: cell(figures.share),
    low: cell(figures.low),
    high: cell(figures.high),
    ...figures.defects,
    dropped: figures.dropped,
  };
}
