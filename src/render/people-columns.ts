import { shortDay, shortDayAndYear } from '../report/day-words.ts';
import type { Column, Report, Row } from '../report/table.ts';
import { visible } from '../source/visible.ts';
import { formatCell, formatInterval, type Joiner, unitFor } from './format-cell.ts';

/** A column as people see it: an interval is one column, machine columns are gone. */
export interface PeopleColumn {
  readonly key: string;
  /** Label with the unit in parentheses. */
  readonly header: string;
  /** See `Column.short`; with the unit, as the header. */
  readonly short?: string;
  /** See `Column.whole`. */
  readonly whole?: boolean;
  readonly align: 'left' | 'right';
  readonly drop: number;
  /** See `Column.onAsking`. */
  readonly onAsking?: boolean;
  /** A drawing of figures that stand in other columns: nothing is lost without it. */
  readonly isDrawing?: boolean;
  /** Safe to show, one a row of the report. */
  readonly cells: readonly string[];
}

export interface PeopleStyle {
  /** What joins the ends of an interval; `–` gives way to ` to ` where a figure is negative. */
  readonly joiner: Joiner;
  /** Whether blanks are put in so that the ends of intervals stand under each other. */
  readonly padEnds: boolean;
}

export function peopleColumns(report: Report, style: PeopleStyle): readonly PeopleColumn[] {
  const columns: PeopleColumn[] = [];
  for (let index = 0; index < report.columns.length; index++) {
    const column = report.columns[index];
    if (column === undefined || column.machineOnly === true) continue;
    const next = report.columns[index + 1];
    if (next !== undefined && column.upTo === next.key && next.machineOnly !== true) {
      columns.push(personal(column, intervalCells(report, column, next, style)));
      index++;
    } else {
      columns.push(personal(column, cellsOf(report, column)));
    }
  }
  return columns;
}

function personal(column: Column, cells: readonly string[]): PeopleColumn {
  const unit = unitFor(column);
  const isText = column.kind === 'text' || column.kind === 'date';
  const headed = (label: string) => visible(unit === undefined ? label : `${label} (${unit})`);
  return {
    key: column.key,
    header: headed(column.label),
    ...(column.short === undefined ? {} : { short: headed(column.short) }),
    ...(column.whole === undefined ? {} : { whole: column.whole }),
    ...(column.onAsking === undefined ? {} : { onAsking: column.onAsking }),
    align: isText ? 'left' : 'right',
    drop: column.drop,
    cells,
  };
}

function cellsOf(report: Report, column: Column): readonly string[] {
  if (column.kind === 'date') return daysOf(report, column);
  return report.rows.map((row) => visible(formatCell(row[column.key], inRow(column, row))));
}

/** Days as people say them, with the year where a column has several and the season of the row does not tell it. */
function daysOf({ rows }: Report, column: Column): readonly string[] {
  const days = rows.map((row) => formatCell(row[column.key], column));
  const years = new Set(days.filter((day) => day !== '').map((day) => day.slice(0, 4)));
  return days.map((day, at) => {
    const isTold = years.size === 1 || rows[at]?.['season'] === day.slice(0, 4);
    return visible(isTold ? shortDay(day) : shortDayAndYear(day));
  });
}

function inRow(column: Column, row: Row): Column {
  const { digitsBy } = column;
  const digits = digitsBy?.digits[String(row[digitsBy.key])];
  return digits === undefined ? column : { ...column, digits };
}

function intervalCells(
  report: Report,
  lowColumn: Column,
  highColumn: Column,
  style: PeopleStyle,
): readonly string[] {
  const lows = cellsOf(report, lowColumn);
  const highs = cellsOf(report, highColumn);
  const anyNegative = [...lows, ...highs].some((end) => end.startsWith('-'));
  const joiner = anyNegative ? ' to ' : style.joiner;
  const both = lows.map((low, row) => low !== '' && highs[row] !== '');
  const wide = (ends: readonly string[]): number =>
    style.padEnds
      ? ends.reduce((widest, end, row) => (both[row] ? Math.max(widest, end.length) : widest), 0)
      : 0;
  const lowWidth = wide(lows);
  const highWidth = wide(highs);
  return lows.map((low, row) => {
    const high = highs[row] ?? '';
    if (!both[row]) return formatInterval(low, high, joiner);
    return formatInterval(low.padStart(lowWidth), high.padStart(highWidth), joiner);
  });
}

/** What stands in place of a table without rows; a note below it says why. */
export const NOTHING = 'Nothing to show.';
