import { selectRecords } from '../../measure/crop-record.ts';
import type { By, RecordGroup } from '../../measure/group-records.ts';
import { groupRecords } from '../../measure/group-records.ts';
import type { SharedSpread } from '../../measure/shared-spread.ts';
import type { WeightFigures } from '../../measure/weight-figures.ts';
import { WEIGHT_FIGURE, weightFigures } from '../../measure/weight-figures.ts';
import type { Crop, Ledger } from '../../model/ledger.ts';
import { assembleReport } from '../assemble-report.ts';
import { cell, countColumn, intervalColumns, numberColumn, onAsking } from '../columns.ts';
import { note, shownNote } from '../common-notes.ts';
import { rowsBy } from '../report-request.ts';
import { rowCells, rowColumns } from '../row-columns.ts';
import type { Cell, Column, Note, Report, Row } from '../table.ts';
import { counted } from '../words.ts';
import { type SpreadRequest, sharedSpreadNotes, spreadOfRows } from './spread-request.ts';

interface Told {
  readonly group: RecordGroup;
  readonly figures: WeightFigures;
}

/** What the fruit weigh: mean with its interval, and the spread of fruit weighed singly. */
export function weightsReport(ledger: Ledger, request: SpreadRequest): Report {
  const by = rowsBy(request, ['cultivar']);
  const records = selectRecords(ledger, request.selection);
  const spreads = spreadOfRows(ledger, request, by, WEIGHT_FIGURE);
  const told = groupRecords(ledger, records, by, true)
    .map((group) => ({
      group,
      figures: weightFigures(
        group.records,
        request.confidence,
        spreads.get(group.crops[0] ?? 'main'),
      ),
    }))
    .filter(({ figures }) => figures.fruit > 0);
  return assembleReport(ledger, request, {
    report: 'weights',
    what: 'Fruit weight',
    by,
    records,
    columns: columns(by, request.confidence),
    rows: told.map(({ group, figures }) => toRow(rowCells(ledger, group), figures)),
    order: { blocks: ['crop'], key: 'mean' },
    notes: notes(told, spreads),
    ifNoRows: 'No fruit was picked in this selection, so there is none to weigh.',
  });
}

function columns(by: readonly By[], confidence: number): Column[] {
  const grams = (key: string, label: string, drop: number) =>
    numberColumn(key, 1, { label, unit: 'g', drop });
  const mean = grams('mean', 'Mean', 0);
  const quartile = (key: 'q1' | 'q3') => ({
    ...numberColumn(key, 0, { label: 'Half of them between', unit: 'g', drop: 5 }),
    short: 'Half between',
  });
  return [
    ...rowColumns(['cultivar', 'crop'], by),
    countColumn('weighed', { label: 'Weighed', unit: 'fruit', drop: 2 }),
    countColumn('fruit', { label: 'Picked', unit: 'fruit', drop: 4 }),
    mean,
    ...intervalColumns(mean, ['low', 'high'], confidence, 1),
    onAsking(grams('sd', 'SD', 5)),
    onAsking(numberColumn('cv', 0, { label: 'CV', unit: '%', drop: 6 })),
    grams('median', 'Median', 7),
    { ...quartile('q1'), upTo: 'q3' },
    quartile('q3'),
    grams('min', 'Least', 8),
    grams('max', 'Greatest', 8),
    countColumn('trees', { label: 'Trees', drop: 3 }),
  ];
}

function toRow(what: Readonly<Record<string, Cell>>, figures: WeightFigures): Row {
  return {
    ...what,
    weighed: figures.weighed,
    fruit: figures.fruit,
    mean: cell(figures.mean?.value),
    low: cell(figures.mean?.low),
    high: cell(figures.mean?.high),
    sd: cell(figures.sd),
    cv: cell(figures.cv),
    median: cell(figures.median),
    q1: cell(figures.q1),
    q3: cell(figures.q3),
    min: cell(figures.min),
    max: cell(figures.max),
    trees: figures.trees,
  };
}

function notes(told: readonly Told[], spreads: ReadonlyMap<Crop, SharedSpread>): Note[] {
  const all = told.map(({ figures }) => figures);
  const total = (of: (figures: WeightFigures) => number) =>
    all.reduce((sum, figures) => sum + of(figures), 0);
  const known = all.filter(({ mean }) => mean !== undefined);
  const single = known.filter(({ unit }) => unit === 'fruit').length;
  const best = total((figures) => figures.best);
  const partly = known.filter(
    ({ singly, weighed, best: picked }) => singly > 1 && singly < weighed - picked,
  ).length;
  const unweighed = all.length - known.length;
  const texts = {
    method: [
      'Mean = weight / fruit over all fruit weighed; SD (standard deviation), CV (SD as a share of the mean) and quartiles from fruit weighed singly.',
      spreads.size === 0 && single < known.length
        ? 'The interval takes the tree as the unit (Cochran 1977), since fruit of one tree are alike.'
        : '',
    ],
    evidence: [
      single > 0
        ? `${counted(single, 'row rests', 'rows rest')} on one tree: the interval is that of its single fruit and speaks of that tree only.`
        : '',
      partly > 0
        ? `In ${counted(partly, 'row', 'rows')} only some fruit were weighed one by one: median, least, greatest and what half lie between are of these alone, the mean of all.`
        : '',
      best > 0
        ? `${counted(best, 'fruit picked out as the best is', 'fruit picked out as the best are')} kept out of the means.`
        : '',
      unweighed > 0
        ? `${counted(unweighed, 'row has', 'rows have')} no mean: no fruit was weighed, or the best alone.`
        : '',
    ],
  };
  return [
    note('method', texts.method.filter((text) => text !== '').join(' ')),
    ...sharedSpreadNotes(spreads),
    ...texts.evidence.filter((text) => text !== '').map((text) => shownNote('evidence', text)),
  ];
}
