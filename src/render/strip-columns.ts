import { shortDay } from '../report/day-words.ts';
import type { Cell, Report, Row, Strip } from '../report/table.ts';
import { formatCell } from './format-cell.ts';
import type { Look } from './look.ts';
import type { PeopleColumn } from './people-columns.ts';

/** Characters that a strip is wide. */
const WIDTH = 16;

/** The columns of a text table with its strips drawn behind the columns that they belong to. */
export function withStrips(
  report: Report,
  columns: readonly PeopleColumn[],
  look: Look,
): readonly PeopleColumn[] {
  const drawn = (report.strips ?? []).flatMap((strip) => {
    const column = stripColumn(report, strip, look);
    return column === undefined ? [] : [{ after: strip.after, column }];
  });
  return columns.flatMap((column) => [
    column,
    ...drawn.filter(({ after }) => after === column.key).map((one) => one.column),
  ]);
}

/** One strip as a column; its header is the axis. Without two different values there is none. */
function stripColumn(report: Report, strip: Strip, look: Look): PeopleColumn | undefined {
  const lows = report.rows.map((row) => position(row[strip.low]));
  const highs = report.rows.map((row) => position(row[strip.high]));
  const from = Math.min(...lows.filter((value) => value !== undefined));
  const to = Math.max(...highs.filter((value) => value !== undefined));
  if (!(to > from)) return undefined;
  const place = (value: number) => Math.round(((value - from) / (to - from)) * (WIDTH - 1));
  return {
    key: `${strip.after} strip`,
    header: axis(report, strip, lows.indexOf(from), highs.indexOf(to), look.unicode ? '·' : '.'),
    // Right, as figures: text columns may be shortened, and a strip may not.
    align: 'right',
    drop: strip.drop,
    isDrawing: true,
    cells: report.rows.map((row) => draw(row, strip, place, look.unicode)),
  };
}

/** Least and greatest value at the ends of the strip's width. */
function axis(
  report: Report,
  strip: Strip,
  lowRow: number,
  highRow: number,
  filler: string,
): string {
  const worded = (key: string, row: number) => {
    const column = report.columns.find((one) => one.key === key);
    const cell = report.rows[row]?.[key];
    // The year of a date would leave no room, and is the same for all.
    return column === undefined ? '' : shortDay(formatCell(cell, column));
  };
  const [low, high] = [worded(strip.low, lowRow), worded(strip.high, highRow)];
  // As wide as the rows are, so that no line break parts it: the ends must stand over the ends.
  return low + filler.repeat(Math.max(1, WIDTH - low.length - high.length)) + high;
}

function draw(row: Row, strip: Strip, place: (value: number) => number, unicode: boolean): string {
  const [low, point, high] = [strip.low, strip.point, strip.high].map((key) => position(row[key]));
  if (low === undefined || point === undefined || high === undefined) return '';
  const [start, middle, end] = [place(low), place(point), place(high)];
  const marks = Array.from({ length: WIDTH }, (_, at) => {
    if (at === middle) return unicode ? '●' : 'o';
    return at >= start && at <= end ? (unicode ? '─' : '-') : ' ';
  });
  return marks.join('');
}

function position(cell: Cell | undefined): number | undefined {
  if (typeof cell === 'number') return cell;
  if (typeof cell !== 'string') return undefined;
  const time = Date.parse(`${cell}T00:00:00Z`);
  return Number.isNaN(time) ? undefined : time;
}
