/** A real calendar date as `YYYY-MM-DD`. Text order is date order. */
export type IsoDate = string & { readonly isoDate: unique symbol };

/** A date known to the day, the month or only the year: `2024-03-01`, `2024-03` or `2024`. */
export interface PartialDate {
  readonly text: string;
  readonly earliest: IsoDate;
  readonly latest: IsoDate;
}

const DAY_MS = 86_400_000;
const numbers = new Map<string, number>();

/** The date, if the text is one that exists in the Gregorian calendar. */
export function parseIsoDate(text: string): IsoDate | undefined {
  const found = /^(\d{4})-(\d{2})-(\d{2})$/.exec(text);
  if (found === null) return undefined;
  const [year = 0, month = 0, day = 0] = found.slice(1).map(Number);
  // Date.UTC reads years below 100 as 19xx, so there are none.
  const exists = year >= 100 && day >= 1 && day <= daysIn(month, year);
  return exists ? (text as IsoDate) : undefined;
}

/** Days in a month, by the rule of the Gregorian calendar at all times; 0 in one that does not exist. */
function daysIn(month: number, year: number): number {
  if (month !== 2) return MONTH_DAYS[month - 1] ?? 0;
  const isLeap = year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0);
  return isLeap ? 29 : 28;
}

const MONTH_DAYS = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];

export function parsePartialDate(text: string): PartialDate | undefined {
  if (/^\d{4}$/.test(text)) return partial(text, `${text}-01-01`, `${text}-12-31`);
  if (/^\d{4}-\d{2}$/.test(text)) {
    const first = parseIsoDate(`${text}-01`);
    if (first === undefined) return undefined;
    const [year, month] = text.split('-').map(Number);
    const last = new Date(Date.UTC(year ?? 0, month ?? 0, 0)).toISOString().slice(0, 10);
    return partial(text, first, last);
  }
  return partial(text, text, text);
}

function partial(text: string, first: string, last: string): PartialDate | undefined {
  const earliest = parseIsoDate(first);
  const latest = parseIsoDate(last);
  return earliest === undefined || latest === undefined ? undefined : { text, earliest, latest };
}

/** Days since 1970-01-01. */
export function dayNumber(date: IsoDate): number {
  let number = numbers.get(date);
  if (number === undefined) {
    number = Date.parse(`${date}T00:00:00Z`) / DAY_MS;
    numbers.set(date, number);
  }
  return number;
}

export function dateOfDay(day: number): IsoDate {
  return new Date(day * DAY_MS).toISOString().slice(0, 10) as IsoDate;
}

export function daysBetween(from: IsoDate, to: IsoDate): number {
  return dayNumber(to) - dayNumber(from);
}

export function addDays(date: IsoDate, days: number): IsoDate {
  return dateOfDay(dayNumber(date) + days);
}

export interface GrowingYear {
  readonly first: IsoDate;
  readonly last: IsoDate;
}

/**
 * The growing year of a season: the calendar year; south of the equator July to June, named by
 * the year it ends in.
 *
 * @param latitude degrees north, negative south of the equator
 */
export function growingYear(season: number, latitude: number | undefined): GrowingYear {
  const south = latitude !== undefined && latitude < 0;
  const first = south ? `${year4(season - 1)}-07-01` : `${year4(season)}-01-01`;
  const last = south ? `${year4(season)}-06-30` : `${year4(season)}-12-31`;
  return { first: first as IsoDate, last: last as IsoDate };
}

/**
 * The season whose growing year holds a date; see `growingYear`.
 *
 * @param latitude degrees north, negative south of the equator
 */
export function seasonOf(date: IsoDate, latitude: number | undefined): number {
  const year = Number(date.slice(0, 4));
  return date > growingYear(year, latitude).last ? year + 1 : year;
}

function year4(year: number): string {
  return String(year).padStart(4, '0');
}
