import type { IsoDate } from '../../model/dates.ts';
import { type DatesOrder, readDate } from './typed-date.ts';

/**
 * When something was planted or came, as people type it, ready for the file: a year as a number,
 * else `YYYY-MM` or `YYYY-MM-DD`. 2021, 4/2021, 2021-04, April 2021, 16 Apr 2021, 16.4.2021.
 */
export function readPartialDate(
  text: string,
  today: IsoDate,
  order: DatesOrder,
): string | number | { readonly advice: string } {
  const words = text.trim().split(/\s+/);
  if (/^\d{4}$/.test(text.trim())) return Number(text);
  const month = /^(\d{1,2})[./](\d{4})$/.exec(text) ?? undefined;
  if (month !== undefined) return ofMonth(Number(month[2]), Number(month[1]));
  const iso = /^(\d{4})-(\d{1,2})$/.exec(text);
  if (iso !== null) return ofMonth(Number(iso[1]), Number(iso[2]));
  const [first = '', second = ''] = words;
  if (words.length === 2 && /^\d{4}$/.test(second)) {
    // A month by its name: the reader of days knows the names.
    const day = readDate(['1', first, second], today);
    if (day.kind === 'date') return day.date.slice(0, 7);
  }
  const day = readDate(words, today, order);
  if (day.kind === 'date' && day.used === words.length && /\d{4}/.test(text)) return day.date;
  if (day.kind === 'unclear') return { advice: `type ${day.readings.join(' or ')}` };
  return { advice: 'as in 2021, April 2021 or 2021-04-16; what is not known is left out' };
}

function ofMonth(year: number, month: number): string | { readonly advice: string } {
  if (month < 1 || month > 12) return { advice: 'months are 1 to 12' };
  return `${year}-${String(month).padStart(2, '0')}`;
}
