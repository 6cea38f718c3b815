import type { IsoDate } from '../../model/dates.ts';
import { addDays, daysBetween, growingYear, parseIsoDate } from '../../model/dates.ts';
import type { Ledger } from '../../model/ledger.ts';
import { CROPS } from '../../model/ledger.ts';
import { cropHeading } from '../crop-words.ts';
import { dayInWords } from '../day-words.ts';
import { ripeningReport } from '../measured/ripening-report.ts';
import { markedName } from '../names.ts';
import { joined } from '../prose.ts';
import type { ReportRequest } from '../report-request.ts';
import { textIn } from '../row-columns.ts';
import type { Report, Row } from '../table.ts';
import { counted, yearsInWords } from '../words.ts';
import type { RipeningFigure, RipeningPanel, RipeningSpan } from './figure.ts';

interface Calendar {
  readonly season: number;
  readonly crop: string;
  readonly heading: string;
  readonly frost: IsoDate | undefined;
  readonly rows: readonly RipeningSpan[];
}

/** When cultivars were picked, a panel a season and crop; undefined where nothing was picked. */
export function ripeningFigure(ledger: Ledger, request: ReportRequest): RipeningFigure | undefined {
  return ripeningFigureOf(ledger, ripeningReport(ledger, { ...request, by: ['cultivar'] }));
}

/** The same from a ripening report by cultivar that has been made. */
export function ripeningFigureOf(
  ledger: Ledger,
  report: Pick<Report, 'rows' | 'selection'>,
): RipeningFigure | undefined {
  // A crop without its calendar yet cannot be drawn.
  const whole = report.rows.filter((row) =>
    ['p10', 'p50', 'p90'].every((key) => row[key] !== null),
  );
  const calendars = calendarsOf(ledger, whole);
  if (calendars.length === 0) return undefined;
  const ends = axisEnds(ledger, calendars);
  const panels = calendars.map((calendar): RipeningPanel => {
    const start = growingYear(calendar.season, ledger.trial.place.latitude).first;
    const from = addDays(start, ends.from);
    return {
      heading: calendar.heading,
      from,
      to: addDays(start, ends.to),
      frost: calendar.frost,
      rows: calendar.rows,
    };
  });
  const rows = calendars.flatMap((calendar) => calendar.rows);
  return {
    kind: 'ripening',
    key: ['ripening', ...unique(calendars, 'season'), ...unique(calendars, 'crop')].join('-'),
    title: `Ripening calendar, ${yearsInWords(calendars.map(({ season }) => season))}`,
    reading: reading(rows, panels, report.rows.length - whole.length),
    alt: joined(calendars.map((calendar) => [altOf(calendar)])),
    description: joined(calendars.map((calendar) => [told(calendar)])),
    panels,
  };
}

function unique(calendars: readonly Calendar[], key: 'season' | 'crop'): readonly string[] {
  return [...new Set(calendars.map((calendar) => String(calendar[key])))];
}

function calendarsOf(ledger: Ledger, rows: readonly Row[]): readonly Calendar[] {
  const seasonOf = (row: Row) =>
    Number(textIn(row, 'season') || seasonOfDay(ledger, textIn(row, 'p50')));
  const seasons = [...new Set(rows.map(seasonOf))].toSorted((a, b) => a - b);
  return seasons.flatMap((season) =>
    CROPS.flatMap((crop) => {
      const own = rows.filter((row) => row['crop'] === crop && seasonOf(row) === season);
      if (own.length === 0) return [];
      return {
        season,
        crop,
        heading: `${cropHeading(ledger, crop)}, ${season}`,
        frost: ledger.trial.frost.get(season),
        rows: own.map((row) => span(ledger, row)),
      };
    }),
  );
}

/** The season whose growing year holds a day: the report leaves the column out where there is one. */
function seasonOfDay(ledger: Ledger, day: string): number | undefined {
  return ledger.seasons.find(({ year }) => {
    const { first, last } = growingYear(year, ledger.trial.place.latitude);
    return day >= first && day <= last;
  })?.year;
}

function span(ledger: Ledger, row: Row): RipeningSpan {
  return {
    name: markedName(ledger, textIn(row, 'cultivar')),
    first: textIn(row, 'first'),
    p10: textIn(row, 'p10'),
    p50: textIn(row, 'p50'),
    p90: textIn(row, 'p90'),
    last: textIn(row, 'last'),
  };
}

/** Days of margin on either side of what is drawn. */
const MARGIN = 4;

/** Days from the first of the growing year, so that panels of several seasons stand in line. */
function axisEnds(
  ledger: Ledger,
  calendars: readonly Calendar[],
): { readonly from: number; readonly to: number } {
  const days = calendars.flatMap(({ season, frost, rows }) => {
    const { first } = growingYear(season, ledger.trial.place.latitude);
    return [...rows.flatMap((row) => [row.first, row.last]), ...(frost ? [frost] : [])]
      .map(parseIsoDate)
      .flatMap((day) => (day === undefined ? [] : [daysBetween(first, day)]));
  });
  return { from: Math.min(...days) - MARGIN, to: Math.max(...days) + MARGIN };
}

function reading(
  rows: readonly RipeningSpan[],
  panels: readonly RipeningPanel[],
  underWay: number,
): string {
  const parts = [
    'Thin line: first to last pick; bar: from a tenth to nine tenths of the fruit; upright tick: half of it was in.',
    panels.some(({ frost }) => frost !== undefined) ? 'Broken line: first frost.' : '',
    underWay === 0
      ? ''
      : `Not drawn, since it is not over: the crop of ${counted(underWay, 'cultivar')}.`,
    rows.some(({ name }) => name.endsWith('(?)')) ? '(?) marks a name in doubt.' : '',
  ];
  return parts.filter((part) => part !== '').join(' ');
}

function altOf({ heading, rows, frost }: Calendar): string {
  const inOrder = rows.toSorted((a, b) => (a.p50 < b.p50 ? -1 : a.p50 > b.p50 ? 1 : 0));
  const early = inOrder[0];
  const late = inOrder.at(-1);
  if (early === undefined || late === undefined) return '';
  const cold = frost === undefined ? '' : `; first frost ${dayInWords(frost)}`;
  const span =
    early === late
      ? `half of ${early.name} was picked by ${dayInWords(early.p50)}`
      : `half was picked by ${dayInWords(early.p50)} for the earliest, ${early.name}, and by ${dayInWords(late.p50)} for the latest, ${late.name}`;
  return `${heading}: ${span}${cold}.`;
}

function told({ heading, rows, frost }: Calendar): string {
  const each = rows.map(
    (row) =>
      `${row.name} first ${dayInWords(row.first)}, half ${dayInWords(row.p50)}, last ${dayInWords(row.last)}`,
  );
  const cold = frost === undefined ? '' : ` First frost ${dayInWords(frost)}.`;
  return `${heading}: ${each.join('; ')}.${cold}`;
}
