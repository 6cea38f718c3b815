import { type IsoDate, parseIsoDate } from '../../model/dates.ts';
import { readDate } from '../shorthand/typed-date.ts';

/** Which comes first in dates such as 5/6/2026. */
export type DateOrder = 'day' | 'month';

/**
 * Which of day and month comes first in a column of dates, decided by the whole column: one part
 * past 12 in any row tells. Undefined where no row tells; `both` where rows contradict each other.
 */
export function dateOrderOf(cells: readonly string[]): DateOrder | 'both' | undefined {
  let day = false;
  let month = false;
  for (const cell of cells) {
    const parts = stroked(cell);
    if (parts === undefined) continue;
    if (parts.first > 12) day = true;
    if (parts.second > 12) month = true;
  }
  if (day && month) return 'both';
  return day ? 'day' : month ? 'month' : undefined;
}

/** Whether a date could be read either way. */
export function isUnclearDate(cell: string): boolean {
  const parts = stroked(cell);
  if (parts === undefined) return false;
  return parts.first !== parts.second && parts.first <= 12 && parts.second <= 12;
}

/** The date of a cell; a time behind it is left out. Undefined where it is none, or has no year. */
export function dateOfCell(cell: string, order: DateOrder): IsoDate | undefined {
  const iso = /^(\d{4}-\d{2}-\d{2})(?:[T ].*)?$/.exec(cell);
  if (iso !== null) return parseIsoDate(iso[1] ?? '');
  const parts = stroked(cell);
  if (parts !== undefined) {
    const [day, month] =
      order === 'day' ? [parts.first, parts.second] : [parts.second, parts.first];
    return real(parts.year, month, day);
  }
  const dotted = /^(\d{1,2})\.\s?(\d{1,2})\.\s?(\d{4}|\d\d)$/.exec(cell);
  if (dotted !== null) return real(yearOf(dotted[3]), Number(dotted[2]), Number(dotted[1]));
  if (!/[a-z]/i.test(cell) || !/\d{4}/.test(cell)) return undefined;
  const words = cell.replaceAll(/[-,]/g, ' ').split(/\s+/);
  const far = parseIsoDate('9998-12-31');
  const read = far && readDate(words, far);
  return read?.kind === 'date' && read.used === 3 ? read.date : undefined;
}

function stroked(cell: string) {
  const found = /^(\d{1,2})[/-](\d{1,2})[/-](\d{4}|\d\d)(?:\s+\d{1,2}:.*)?$/.exec(cell);
  return found === null
    ? undefined
    : { first: Number(found[1]), second: Number(found[2]), year: yearOf(found[3]) };
}

function yearOf(text = ''): number {
  return text.length === 2 ? 2000 + Number(text) : Number(text);
}

function real(year: number, month: number, day: number): IsoDate | undefined {
  const two = (part: number) => String(part).padStart(2, '0');
  return parseIsoDate(`${String(year).padStart(4, '0')}-${two(month)}-${two(day)}`);
}
