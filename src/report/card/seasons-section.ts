import type { CropRecord } from '../../measure/crop-record.ts';
import { selectRecords } from '../../measure/crop-record.ts';
import { groupBy } from '../../measure/group-by.ts';
import { groupRecords } from '../../measure/group-records.ts';
import { pickCalendar } from '../../measure/ripening-figures.ts';
import { type SharedSpread, sharedSpreads } from '../../measure/shared-spread.ts';
import { soundnessFigures } from '../../measure/soundness-figures.ts';
import { recordsUnderWay } from '../../measure/under-way.ts';
import { meanWeight, WEIGHT_FIGURE } from '../../measure/weight-figures.ts';
import { BRANCH_FIGURE, fruitPerBranch } from '../../measure/yield-figures.ts';
import type { Crop, Ledger } from '../../model/ledger.ts';
import {
  cell,
  countColumn,
  dateColumn,
  intervalColumns,
  numberColumn,
  shareColumn,
  textColumn,
} from '../columns.ts';
import { withCropWords } from '../crop-words.ts';
import { soFarWords } from '../day-words.ts';
import { type Section, tableSection } from '../document.ts';
import { siteName } from '../names.ts';
import type { ReportRequest } from '../report-request.ts';
import { forPeople } from '../row-columns.ts';
import type { Column, Row } from '../table.ts';
import { yearsInWords } from '../words.ts';

/**
 * What a cultivar bore: a row for each crop, site and season, and one over the seasons of each crop
 * and site where there are several.
 */
export function seasonsSection(ledger: Ledger, request: ReportRequest): Section {
  const { selection, confidence } = request;
  const isUnderWay = recordsUnderWay(ledger, request.today);
  const everyTree = selectRecords(ledger, { ...selection, cultivars: [], trees: [] });
  const spreads = (apart: 'seasons' | 'nothing') => ({
    branch: sharedSpreads(everyTree, BRANCH_FIGURE, apart),
    weight: sharedSpreads(everyTree, WEIGHT_FIGURE, apart),
  });
  const [ofSeason, ofAll] = [spreads('seasons'), spreads('nothing')];
  const groups = groupRecords(ledger, selectRecords(ledger, selection), ['site'], true);
  const rows = groups
    .toSorted((a, b) => Number(a.crops[0] === 'main') - Number(b.crops[0] === 'main'))
    .flatMap(({ records, seasons }) => {
      const single = [...groupBy(records, ({ season }) => season).values()];
      const rows = single.map((own) => toRow(ledger, own, confidence, ofSeason, isUnderWay));
      return seasons.length > 1
        ? [...rows, toRow(ledger, records, confidence, ofAll, isUnderWay)]
        : rows;
    });
  const columns = seasonsColumns(confidence);
  return tableSection({
    key: 'seasons',
    heading: 'What it bore',
    table: { columns: withCropWords(ledger, {}, forPeople(columns, rows, ['season'])), rows },
    ifEmpty: 'No counts, picks or drops of it.',
  });
}

type Spreads = Readonly<Record<'branch' | 'weight', ReadonlyMap<Crop, SharedSpread>>>;

function seasonsColumns(confidence: number): Column[] {
  const perBranch = numberColumn('fruitPerBranch', 2, { label: 'Fruit/branch', drop: 0 });
  const weight = numberColumn('meanWeight', 1, { label: 'Mean weight', unit: 'g', drop: 0 });
  const sound = shareColumn('soundShare', 0, { label: 'Sound', drop: 1 });
  /** Three columns would otherwise be headed by the same words. */
  const interval = (of: Column) =>
    intervalColumns(of, [`${of.key}Low`, `${of.key}High`], confidence, 9).map((end) => ({
      ...end,
      label: `${of.label}, ${end.label}`,
    }));
  return [
    textColumn('crop', { label: 'Crop', drop: 0 }),
    textColumn('site', { label: 'Site', drop: 0 }),
    textColumn('season', { label: 'Season', drop: 0 }),
    countColumn('trees', { label: 'Trees', drop: 4 }),
    countColumn('load', { label: 'Load', unit: 'fruit', drop: 3 }),
    perBranch,
    ...interval(perBranch),
    countColumn('picked', { label: 'Picked', unit: 'fruit', drop: 8 }),
    weight,
    ...interval(weight),
    sound,
    ...interval(sound),
    dateColumn('first', { label: 'First pick', drop: 6 }),
    textColumn('soFar', { label: 'Picked so far', drop: 6 }),
    dateColumn('p50', { label: 'Half picked', drop: 2 }),
    dateColumn('last', { label: 'Last pick', drop: 7 }),
  ];
}

/** Days of several seasons make no calendar. */
function toRow(
  ledger: Ledger,
  records: readonly CropRecord[],
  confidence: number,
  spreads: Spreads,
  isUnderWay: (record: CropRecord) => boolean,
): Row {
  const seasons = [...new Set(records.map(({ season }) => season))];
  const crop = records[0]?.crop ?? 'main';
  const perBranch = fruitPerBranch(records, confidence, spreads.branch.get(crop));
  const weight = meanWeight(records, confidence, spreads.weight.get(crop));
  const sound = soundnessFigures(records, confidence);
  const calendar = seasons.length === 1 ? pickCalendar(records, isUnderWay) : undefined;
  return {
    crop: records[0]?.crop ?? null,
    site: siteName(ledger, records[0]?.site ?? ''),
    season: yearsInWords(seasons, '-'),
    trees: new Set(records.map(({ tree }) => tree)).size,
    load: records.reduce((sum, { load }) => sum + load.fruit, 0),
    fruitPerBranch: cell(perBranch?.value),
    fruitPerBranchLow: cell(perBranch?.low),
    fruitPerBranchHigh: cell(perBranch?.high),
    picked: sound.fruit,
    soFar: calendar?.soFar === undefined ? null : soFarWords(calendar.soFar),
    meanWeight: cell(weight?.value),
    meanWeightLow: cell(weight?.low),
    meanWeightHigh: cell(weight?.high),
    soundShare: cell(sound.share),
    soundShareLow: cell(sound.low),
    soundShareHigh: cell(sound.high),
    first: cell(calendar?.first),
    p50: cell(calendar?.p50),
    last: cell(calendar?.last),
  };
}
