import type { Cell, Column } from '../report/table.ts';

/** What joins the two ends of an interval. */
export type Joiner = '–' | ' to ';

/**
 * A figure as people read it: the digits of its column, shares in percent, blank where there is
 * none. Throws a `RangeError` for NaN and Infinity, which no report may hold.
 */
export function formatCell(cell: Cell | undefined, column: Column): string {
  if (cell === null || cell === undefined) return '';
  if (typeof cell === 'boolean') return cell ? 'yes' : 'no';
  if (typeof cell === 'string') return cell;
  if (!Number.isFinite(cell)) throw new RangeError(`${column.key} is ${cell}`);
  if (column.kind === 'text' || column.kind === 'date') return String(cell);
  return formatDecimal(cell, column.digits ?? 0, column.kind === 'share' ? 2 : 0);
}

/** The unit that stands in the header for people. */
export function unitFor(column: Column): string | undefined {
  return column.kind === 'share' ? '%' : column.unit;
}

/** Both ends of an interval in one cell; an end that is missing is said in words. */
export function formatInterval(low: string, high: string, joiner: Joiner): string {
  if (low === '') return high === '' ? '' : `up to ${high}`;
  if (high === '') return `from ${low}`;
  return `${low}${joiner}${high}`;
}

/**
 * `value` times ten to the `shift`, with so many decimals, halves away from zero, never `-0`.
 *
 * Rounds the shortest decimal that stands for the number, as a person with the printed figures
 * would: 201 fruit on 200 branches are 1.01 a branch, where `toFixed` makes 1.00 of 1.005. The
 * same as `Intl.NumberFormat`, which takes longer to start than the rest of a report.
 */
function formatDecimal(value: number, digits: number, shift: number): string {
  const scaled = Math.round(timesTen(Math.abs(value), digits + shift));
  if (scaled > Number.MAX_SAFE_INTEGER) return timesTen(value, shift).toFixed(digits);
  const figures = String(scaled).padStart(digits + 1, '0');
  const whole = figures.slice(0, figures.length - digits);
  const sign = value < 0 && scaled > 0 ? '-' : '';
  return digits === 0 ? sign + whole : `${sign}${whole}.${figures.slice(-digits)}`;
}

/** Moves the decimal point without a rounding step in between. */
function timesTen(value: number, power: number): number {
  const [figures = '0', exponent = '0'] = String(value).split('e');
  return Number(`${figures}e${Number(exponent) + power}`);
}
