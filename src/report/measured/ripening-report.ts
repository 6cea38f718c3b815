import type { CropRecord } from '../../measure/crop-record.ts';
import { selectRecords } from '../../measure/crop-record.ts';
import { groupBy } from '../../measure/group-by.ts';
import type { By, RecordGroup } from '../../measure/group-records.ts';
import { groupRecords } from '../../measure/group-records.ts';
import type { RipeningFigures } from '../../measure/ripening-figures.ts';
import { pickCalendar, ripeningFigures } from '../../measure/ripening-figures.ts';
import { recordsUnderWay } from '../../measure/under-way.ts';
import type { Cultivar } from '../../model/collection.ts';
import { daysBetween, growingYear, parseIsoDate } from '../../model/dates.ts';
import { CROPS, type Ledger } from '../../model/ledger.ts';
import { assembleReport } from '../assemble-report.ts';
import {
  cell,
  countColumn,
  dateColumn,
  numberColumn,
  shareColumn,
  textColumn,
} from '../columns.ts';
import { note, shownNote } from '../common-notes.ts';
import { dayAndYear, shortDay, soFarNote, soFarWords } from '../day-words.ts';
import { cultivarName } from '../names.ts';
import type { ReportRequest } from '../report-request.ts';
import { rowsBy } from '../report-request.ts';
import { rowCells, rowColumn, rowColumns } from '../row-columns.ts';
import type { Cell, Column, Note, Report, Row } from '../table.ts';
import { listed, yearsInWords } from '../words.ts';

interface Told {
  readonly group: RecordGroup;
  readonly season: number;
  readonly figures: RipeningFigures;
  readonly daysFromStandard: number | undefined;
}

/**
 * When fruit was picked, a row for each season: the seasons of a cultivar have calendars of their
 * own. The column `season` stands behind `crop` as soon as there is more than one.
 */
export function ripeningReport(ledger: Ledger, request: ReportRequest): Report {
  const by = rowsBy(request, ['cultivar']);
  const apart: readonly By[] = by.includes('season') ? by : [...by, 'season'];
  const records = selectRecords(ledger, request.selection);
  const told = tell(ledger, request, apart, records);
  const seasons = [...(request.selection.seasons ?? []), ...told.map(({ season }) => season)];
  const withSeason = by.includes('season') || new Set(seasons).size > 1;
  return assembleReport(ledger, request, {
    report: 'ripening',
    what: 'Ripening',
    by,
    parted: ['season'],
    records,
    columns: columns(ledger, by, withSeason),
    rows: told.map((one) => toRow(rowCells(ledger, one.group), one)),
    order: { blocks: withSeason ? ['season', 'crop'] : ['crop'], key: 'p50' },
    // Of several seasons the years would lie side by side, and nothing could be compared.
    strips: withSeason
      ? []
      : [{ after: 'last', low: 'first', point: 'p50', high: 'last', drop: 4.5 }],
    screen: seasonsBeside(ledger, request, by, told),
    notes: notes(ledger, request, records, told),
    ifNoRows: 'No fruit was picked in this selection.',
  });
}

/** The days of half the fruit, the seasons beside each other; undefined where there is one season. */
function seasonsBeside(
  ledger: Ledger,
  { sort, top }: ReportRequest,
  by: readonly By[],
  told: readonly Told[],
): Report['screen'] {
  const years = [...new Set(told.map(({ season }) => season))].toSorted((a, b) => a - b);
  if (years.length < 2 || by.includes('season') || sort !== undefined || top !== undefined) {
    return undefined;
  }
  const standard = standardOf(ledger);
  const rows = [
    ...groupBy(told, ({ group }) => {
      const cells = rowCells(ledger, group);
      return JSON.stringify([...by.map((key) => cells[key]), cells.crop]);
    }).values(),
  ];
  return {
    columns: [
      ...rowColumns(['cultivar', 'crop'], by),
      // Of many years the oldest go first.
      ...years.map((year, at) =>
        textColumn(`half${year}`, { label: `Half picked ${year}`, drop: years.length - at }),
      ),
      ...(standard === undefined
        ? []
        : [
            numberColumn('daysFromStandard', 0, {
              label: afterWords(ledger, standard),
              drop: 0.5,
            }),
          ]),
    ],
    rows: rows.toSorted(byCropThen((own) => meanOf(own.map(dayOfSeason)))).map((own) => ({
      ...(own[0] === undefined ? {} : rowCells(ledger, own[0].group)),
      ...Object.fromEntries(
        own.map(({ season, figures: { p50, soFar } }) => [
          `half${season}`,
          p50 === undefined ? (soFar === undefined ? null : 'not yet') : shortDay(p50),
        ]),
      ),
      daysFromStandard: cell(meanOf(own.map((one) => one.daysFromStandard))),
    })),
  };
}

function byCropThen(dayOf: (own: readonly Told[]) => number | undefined) {
  const cropOf = (own: readonly Told[]) => CROPS.indexOf(own[0]?.group.crops[0] ?? 'early');
  return (a: readonly Told[], b: readonly Told[]) =>
    cropOf(a) - cropOf(b) || (dayOf(a) ?? Infinity) - (dayOf(b) ?? Infinity);
}

function dayOfSeason({ season, figures: { p50 } }: Told): number | undefined {
  const start = parseIsoDate(`${season}-01-01`);
  return p50 === undefined || start === undefined ? undefined : daysBetween(start, p50);
}

/** Of those that are known. */
function meanOf(values: readonly (number | undefined)[]): number | undefined {
  const known = values.filter((value) => value !== undefined);
  return known.length === 0 ? undefined : known.reduce((sum, one) => sum + one, 0) / known.length;
}

function tell(
  ledger: Ledger,
  request: ReportRequest,
  by: readonly By[],
  records: readonly CropRecord[],
): Told[] {
  const standard = standardRecords(ledger, request);
  const isUnderWay = recordsUnderWay(ledger, request.today);
  return groupRecords(ledger, records, by, true).flatMap((group) => {
    const [season] = group.seasons;
    if (season === undefined) return [];
    const figures = ripeningFigures(ledger, group.records, season, isUnderWay);
    if (figures === undefined) return [];
    const beside = standard.filter(
      (record) =>
        record.season === season &&
        group.crops.includes(record.crop) &&
        (!by.includes('site') || group.sites.includes(record.site)),
    );
    const check = pickCalendar(beside, isUnderWay)?.p50;
    const daysFromStandard =
      check === undefined || figures.p50 === undefined
        ? undefined
        : daysBetween(check, figures.p50);
    return [{ group, season, figures, daysFromStandard }];
  });
}

/** The standard's records where and when the request looks, whether or not it asks for them. */
function standardRecords(ledger: Ledger, { selection }: ReportRequest): readonly CropRecord[] {
  const key = ledger.trial.standard;
  if (key === undefined) return [];
  return selectRecords(ledger, { ...selection, trees: [], cultivars: [key] });
}

function standardOf(ledger: Ledger): Cultivar | undefined {
  return ledger.cultivars.get(ledger.trial.standard ?? '');
}

function afterWords(ledger: Ledger, standard: Cultivar | undefined): string {
  return `Days after ${standard === undefined ? 'standard' : cultivarName(ledger, standard)}`;
}

function columns(ledger: Ledger, by: readonly By[], withSeason: boolean): Column[] {
  const what = rowColumns(['cultivar', 'crop'], by).filter(({ key }) => key !== 'season');
  const standard = standardOf(ledger);
  const fromStandard = countColumn('daysFromStandard', {
    label: afterWords(ledger, standard),
    drop: 2,
  });
  return [
    ...what,
    ...(withSeason ? [rowColumn('season', ['season'])] : []),
    dateColumn('first', { label: 'First pick', drop: 3 }),
    dateColumn('p10', { label: '10 % picked', drop: 7 }),
    dateColumn('p50', { label: 'Half picked', drop: 0 }),
    dateColumn('p90', { label: '90 % picked', drop: 6 }),
    dateColumn('last', { label: 'Last pick', drop: 4 }),
    countColumn('windowDays', { label: 'Window', unit: 'days', drop: 5 }),
    standard !== undefined ? fromStandard : { ...fromStandard, machineOnly: true },
    numberColumn('degreeDays', 0, { label: 'Degree-days', unit: 'degC d', drop: 4 }),
    shareColumn('shareBeforeFrost', 0, { label: 'Picked before frost', drop: 1 }),
    textColumn('soFar', { label: 'Picked so far', drop: 1 }),
  ];
}

function toRow(what: Readonly<Record<string, Cell>>, { figures, daysFromStandard }: Told): Row {
  const { degreeDays } = figures;
  return {
    ...what,
    first: figures.first,
    soFar: figures.soFar === undefined ? null : soFarWords(figures.soFar),
    p10: cell(figures.p10),
    p50: cell(figures.p50),
    p90: cell(figures.p90),
    last: figures.last,
    windowDays: cell(figures.windowDays),
    daysFromStandard: cell(daysFromStandard),
    degreeDays: cell(degreeDays?.known === true ? degreeDays.degreeDays : undefined),
    shareBeforeFrost: cell(figures.shareBeforeFrost),
  };
}

function notes(
  ledger: Ledger,
  request: ReportRequest,
  records: readonly CropRecord[],
  told: readonly Told[],
): (Note | undefined)[] {
  return [
    ...methodNotes(ledger, told),
    soFarNote(ledger, request, records),
    ...evidenceNotes(ledger, told),
  ];
}

function methodNotes(ledger: Ledger, told: readonly Told[]): Note[] {
  const { base, upper, method } = ledger.trial.degreeDays;
  const standard = standardOf(ledger);
  const texts = [
    'Half picked = the first day by which half the fruit picked was in; 10 % and 90 % likewise.',
  ];
  if (standard !== undefined) {
    const name = cultivarName(ledger, standard);
    texts[0] += ` Standard: ${name}, by its half-picked day in the same season and crop; more is later.`;
  }
  if (told.some(({ figures }) => figures.degreeDays?.known === true)) {
    const limit = upper === undefined ? '' : `, upper limit ${upper} °C`;
    texts.push(
      `Degree-days from the first day of the growing year to the half-picked day: base ${base} °C${limit}, method ${method}.`,
    );
  }
  if (told.some(({ figures }) => figures.shareBeforeFrost !== undefined)) {
    texts.push('Picked before frost = fruit picked by the first frost / load.');
  }
  if (told.some(({ figures }) => figures.soFar !== undefined)) {
    texts.push(
      'Of a crop that is not over a day stands only where that share of all that hung is in.',
    );
  }
  return texts.map((text) => note('method', text));
}

function evidenceNotes(ledger: Ledger, told: readonly Told[]): Note[] {
  const gaps = told.flatMap(({ season, figures: { degreeDays } }) =>
    degreeDays === undefined || degreeDays.known ? [] : [{ season, missing: degreeDays.missing }],
  );
  const firstGaps = new Map(gaps.map(({ season, missing }) => [season, missing]));
  const over = told.filter(({ figures }) => figures.soFar === undefined);
  const noFrost = over.filter(({ season }) => !ledger.trial.frost.has(season));
  const noCheck = over.filter(({ daysFromStandard }) => daysFromStandard === undefined);
  const texts = [];
  const { latitude } = ledger.trial.place;
  const bare = [...firstGaps].filter(
    ([season, missing]) => missing === growingYear(season, latitude).first,
  );
  const broken = [...firstGaps.values()].filter((day) => !bare.some(([, first]) => first === day));
  if (bare.length > 0) {
    const years = yearsInWords(bare.map(([season]) => season));
    texts.push(
      `No degree-days for ${years}: no temperatures from the beginning of the growing year.`,
    );
  }
  if (broken.length > 0) {
    const days = listed(broken.map(dayAndYear));
    texts.push(`No degree-days from the first day without temperatures on: ${days}.`);
  }
  if (noFrost.length > 0) {
    const seasons = yearsInWords(noFrost.map(({ season }) => season));
    texts.push(`No first frost is written down for ${seasons}.`);
  }
  if (standardOf(ledger) !== undefined && noCheck.length > 0) {
    texts.push('No days from the standard where none of its fruit was picked.');
  }
  return texts.map((text) => shownNote('evidence', text));
}
