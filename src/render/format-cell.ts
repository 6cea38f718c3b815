import { decimalText } from '../report/number-words.ts';
import type { Prose } from '../report/prose.ts';
import type { Cell, Column } from '../report/table.ts';
import { visible } from '../source/visible.ts';

/** What joins the two ends of an interval. */
export type Joiner = '–' | ' to ';

/**
 * A figure as people read it: the digits of its column, shares in percent, blank where there is
 * none. Throws a `RangeError` for NaN and Infinity, which no report may hold.
 */
export function formatCell(cell: Cell | undefined, column: Column): string {
  if (cell === null || cell === undefined) return '';
  if (typeof cell === 'boolean') return cell ? 'yes' : 'no';
  if (typeof cell === 'string') return column.words?.[cell] ?? cell;
  if (!Number.isFinite(cell)) throw new RangeError(`${column.key} is ${cell}`);
  if (column.kind === 'text' || column.kind === 'date') return String(cell);
  return decimalText(cell, column.digits ?? 0, column.kind === 'share' ? 2 : 0);
}

/** The unit that stands in the header for people. */
export function unitFor(column: Column): string | undefined {
  if (column.kind === 'share') return '%';
  return column.unit?.replace(/^degC d$/, '°C days').replace(/^degC$/, '°C');
}

/** Both ends of an interval in one cell; an end that is missing is said in words. */
export function formatInterval(low: string, high: string, joiner: Joiner): string {
  if (low === '') return high === '' ? '' : `up to ${high}`;
  if (high === '') return `from ${low}`;
  return `${low}${joiner}${high}`;
}

/** Sentences as text, figures rounded as in tables; shares get their percent sign. */
export function proseText(prose: Prose): string {
  return prose
    .map((part) => {
      if (typeof part === 'string') return visible(part);
      const { value, kind, digits } = part;
      const figure = formatCell(value, { key: 'prose', label: '', kind, digits, drop: 0 });
      return kind === 'share' ? `${figure} %` : figure;
    })
    .join('');
}
