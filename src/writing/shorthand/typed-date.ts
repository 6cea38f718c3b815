import { didYouMean } from '../../diagnostics/did-you-mean.ts';
import { addDays, dayNumber, type IsoDate, parseIsoDate } from '../../model/dates.ts';
import type { Ledger } from '../../model/ledger.ts';

/** A date as typed. `used` is how many words it took. */
export type TypedDate =
  | { readonly kind: 'date'; readonly date: IsoDate; readonly used: number }
  /** Day and month could each be the other. */
  | { readonly kind: 'unclear'; readonly readings: readonly IsoDate[]; readonly used: number }
  | { readonly kind: 'unreal'; readonly used: number }
  | { readonly kind: 'none' };

const MONTHS = [
  'january',
  'february',
  'march',
  'april',
  'may',
  'june',
  'july',
  'august',
  'september',
  'october',
  'november',
  'december',
];

/** Which comes first in 12/9; undefined where nobody has said. */
type DatesOrder = Ledger['trial']['dates'];

/**
 * A date at the head of some words: 2026-07-24, today, yesterday, Saturday, last Saturday, 3 days ago,
 * 24 Jul, Jul 24, 24.7., 24/7, days of a month with or without a year. Without one, the latest such
 * day that is not after `today` is meant, as with a weekday. With full stops the day comes first; with
 * strokes it is as `order` says, and unclear where that says nothing, unless one is past 12.
 */
export function readDate(words: readonly string[], today: IsoDate, order?: DatesOrder): TypedDate {
  const [first = '', second = '', third = ''] = words.map((word) => word.toLowerCase());
  if (first === 'today') return { kind: 'date', date: today, used: 1 };
  if (first === 'yesterday') return { kind: 'date', date: addDays(today, -1), used: 1 };
  const back = daysBack([first, second, third], today);
  if (back !== undefined)
    return { kind: 'date', date: addDays(today, -back.days), used: back.used };
  if (/^\d{4}-\d{1,2}-\d{1,2}$/.test(first)) {
    const [year, month, day] = first.split('-').map(Number);
    return dated(day, month, year, 1, today);
  }
  const dotted = /^(\d{1,2})\.(\d{1,2})\.?(\d{4}|\d\d)?$/.exec(first);
  if (dotted !== null && (dotted[3] === undefined || /\.\d+\./.test(first))) {
    return dated(Number(dotted[1]), Number(dotted[2]), yearOf(dotted[3]), 1, today);
  }
  const stroked = /^(\d{1,2})\/(\d{1,2})(?:\/(\d{4}|\d\d))?$/.exec(first);
  if (stroked !== null) {
    return strokes(Number(stroked[1]), Number(stroked[2]), yearOf(stroked[3]), today, order);
  }
  const joined = /^(\d{1,2})([a-z]{3,})$/.exec(first);
  const joinedMonth = monthOf(joined?.[2] ?? '');
  if (joined !== null && joinedMonth !== undefined) {
    return withYear(Number(joined[1]), joinedMonth, second, 1, today);
  }
  const day = dayOf(first) ?? dayOf(second);
  const month = dayOf(first) === undefined ? monthOf(first) : monthOf(second);
  if (day === undefined || month === undefined) return { kind: 'none' };
  return withYear(day, month, third, 2, today);
}

function strokes(
  a: number,
  b: number,
  year: number | undefined,
  today: IsoDate,
  order: DatesOrder,
): TypedDate {
  const dayFirst = dated(a, b, year, 1, today);
  const monthFirst = dated(b, a, year, 1, today);
  if (order !== undefined) {
    const [usual, other] = order === 'day-first' ? [dayFirst, monthFirst] : [monthFirst, dayFirst];
    return usual.kind === 'date' ? usual : other;
  }
  if (a === b || monthFirst.kind !== 'date') return dayFirst;
  if (dayFirst.kind !== 'date') return monthFirst;
  return { kind: 'unclear', readings: [dayFirst.date, monthFirst.date], used: 1 };
}

const WEEKDAYS = ['monday', 'tuesday', 'wednesday', 'thursday', 'friday', 'saturday', 'sunday'];
const NUMBERS = ['one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight', 'nine', 'ten'];

/** How many days before today some words mean: Saturday, last Saturday, 3 days ago, a week ago. */
function daysBack(
  [first, second, third]: readonly [string, string, string],
  today: IsoDate,
): { readonly days: number; readonly used: number } | undefined {
  const ago = /^(day|week)s?$/.exec(second);
  if (ago !== null && third === 'ago') {
    const counted = /^an?$/.test(first) ? 1 : NUMBERS.indexOf(first) + 1 || Number(first);
    if (!Number.isInteger(counted) || counted < 1 || counted > 400) return undefined;
    return { days: counted * (ago[1] === 'week' ? 7 : 1), used: 3 };
  }
  const isLast = first === 'last';
  const weekday = weekdayOf(isLast ? second : first);
  if (weekday === undefined) return undefined;
  // Day 0 of the calendar, 1 January 1970, was a Thursday.
  const days = (((dayNumber(today) + 3 - weekday) % 7) + 7) % 7;
  return { days: isLast && days === 0 ? 7 : days, used: isLast ? 2 : 1 };
}

/** 0 for a Monday; three letters are enough. */
function weekdayOf(word: string): number | undefined {
  const name = word.replace(/[.,:]$/, '');
  if (name.length < 3) return undefined;
  const index = WEEKDAYS.findIndex((day) => day.startsWith(name));
  return index < 0 ? undefined : index;
}

/**
 * Whether some words that are no date were likely meant for one: 31 Jun, 24.7., Friday 24 July,
 * yesteday.
 */
export function looksLikeDate(words: readonly string[]): boolean {
  const [first = '', ...others] = words;
  if (others.length === 0 && isInFigures(first)) return true;
  return (
    words.length <= 4 &&
    words.some(isNameOfDay) &&
    words.every((word) => isNameOfDay(word) || /^\d{1,4}(?:st|nd|rd|th)?[.,]?$/i.test(word))
  );
}

/** Two numbers or three of which one can be a day and one a month. */
function isInFigures(word: string): boolean {
  if (!/^\d{1,4}(?:[./-]\d{1,4}){1,2}\.?$/.test(word)) return false;
  const numbers = word
    .split(/[./-]/)
    .filter((part) => part !== '')
    .map(Number);
  return (
    numbers.some((one) => one >= 1 && one <= 12) && numbers.filter((one) => one <= 32).length > 1
  );
}

function isNameOfDay(word: string): boolean {
  const name = word.toLowerCase().replace(/[.,:]$/, '');
  const names = ['today', 'yesterday', 'tomorrow', ...WEEKDAYS, ...MONTHS];
  return (
    /^\p{L}{3,}$/u.test(name) &&
    (names.some((one) => one.slice(0, 3) === name.slice(0, 3)) ||
      didYouMean(name, names) !== undefined)
  );
}

function withYear(
  day: number,
  month: number,
  next: string,
  used: number,
  today: IsoDate,
): TypedDate {
  const year = /^\d{4}$/.test(next) ? Number(next) : undefined;
  return dated(day, month, year, year === undefined ? used : used + 1, today);
}

function dated(
  day: number | undefined,
  month: number | undefined,
  year: number | undefined,
  used: number,
  today: IsoDate,
): TypedDate {
  const thisYear = Number(today.slice(0, 4));
  // 29 February may lie some years back.
  const years =
    year === undefined ? Array.from({ length: 9 }, (_, back) => thisYear - back) : [year];
  for (const one of years) {
    const two = (part: number | undefined) => String(part).padStart(2, '0');
    const date = parseIsoDate(`${String(one).padStart(4, '0')}-${two(month)}-${two(day)}`);
    if (date !== undefined && (year !== undefined || date <= today)) {
      return { kind: 'date', date, used };
    }
  }
  return { kind: 'unreal', used };
}

function dayOf(word: string): number | undefined {
  const found = /^(\d{1,2})(?:st|nd|rd|th|\.)?,?$/.exec(word);
  return found === null ? undefined : Number(found[1]);
}

function monthOf(word: string): number | undefined {
  const name = word.replace(/[.,]$/, '');
  if (name.length < 3) return undefined;
  const index = MONTHS.findIndex((month) => month.startsWith(name === 'sept' ? 'sep' : name));
  return index < 0 ? undefined : index + 1;
}

function yearOf(text: string | undefined): number | undefined {
  if (text === undefined) return undefined;
  return text.length === 2 ? 2000 + Number(text) : Number(text);
}

/** A date in words: 24 July 2026. */
export function dateInWords(date: string): string {
  const [year = '', month = '', day = ''] = date.split('-');
  const name = MONTHS[Number(month) - 1] ?? '';
  return `${Number(day)} ${name.charAt(0).toUpperCase()}${name.slice(1)} ${year}`;
}

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
