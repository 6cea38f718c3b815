import type { CropRecord } from '../measure/crop-record.ts';
import { total } from '../measure/total.ts';
import { cropsSoFar, recordsUnderWay, type SoFar } from '../measure/under-way.ts';
import { addDays, daysBetween, growingYear, type IsoDate } from '../model/dates.ts';
import { CROPS, type Ledger } from '../model/ledger.ts';
import { shownNote } from './common-notes.ts';
import type { ReportRequest } from './report-request.ts';
import type { Note } from './table.ts';

const MONTHS = [
  'January',
  'February',
  'March',
  'April',
  'May',
  'June',
  'July',
  'August',
  'September',
  'October',
  'November',
  'December',
];

/** "27 August" of `2026-08-27`; the text itself where it is no date. */
export function dayInWords(date: string): string {
  const found = /^\d{4}-(\d{2})-(\d{2})$/.exec(date);
  const month = MONTHS[Number(found?.[1]) - 1];
  return found === null || month === undefined ? date : `${Number(found[2])} ${month}`;
}

/** "27 Aug" of `2026-08-27`, for a narrow column. */
export function shortDay(date: string): string {
  const words = dayInWords(date);
  return words === date ? date : words.replace(/^(\d+ \p{L}{3})\p{L}*$/u, '$1');
}

/** "27 August 2026" of `2026-08-27`, "August 2026" of `2026-08`; the text itself where it is neither. */
export function dayAndYear(date: string): string {
  const [, year = '', month = ''] = /^(\d{4})-(\d{2})(-\d{2})?$/.exec(date) ?? [];
  const name = MONTHS[Number(month) - 1];
  if (name === undefined) return date;
  return `${date.length > 7 ? dayInWords(date) : name} ${year}`;
}

/** "27 Aug 2026" of `2026-08-27`, for a narrow column. */
export function shortDayAndYear(date: string): string {
  const words = shortDay(date);
  return words === date ? date : `${words} ${date.slice(0, 4)}`;
}

type DayOfSeason = readonly [season: number, day: IsoDate];

/**
 * The mean day of the growing year over some seasons, in the last of them; `undefined` without any.
 * Days are counted from the first of the growing year, so that a season over New Year has a mean too.
 */
export function meanDay(ledger: Ledger, days: readonly DayOfSeason[]): IsoDate | undefined {
  const last = days.at(-1);
  if (last === undefined) return undefined;
  const first = (season: number) => growingYear(season, ledger.trial.place.latitude).first;
  const offset = total(days, ([season, day]) => daysBetween(first(season), day)) / days.length;
  return addDays(first(last[0]), Math.round(offset));
}

/** The same as "12 Sep". */
export function meanDayWords(ledger: Ledger, days: readonly DayOfSeason[]): string | undefined {
  const day = meanDay(ledger, days);
  return day === undefined ? undefined : shortDay(day);
}

/** "1 of 21"; "1" where nobody counted. */
export function soFarWords({ picked, of }: SoFar): string {
  return of === undefined ? String(picked) : `${picked} of ${of}`;
}

/**
 * What is not over, so that nobody takes its figures for those of a whole season: "2026 is not over:
 * breba 1 of 21 fruit picked so far."; undefined where all is over.
 */
export function soFarSentence(
  ledger: Ledger,
  { today }: Pick<ReportRequest, 'today'>,
  records: readonly CropRecord[],
): string | undefined {
  const crops = cropsSoFar(records, recordsUnderWay(ledger, today));
  const words = CROPS.flatMap((crop) => {
    const far = crops.get(crop);
    if (far === undefined) return [];
    const what =
      far.picked === 0
        ? `${far.of} fruit counted, none picked yet`
        : `${soFarWords(far)} fruit picked so far`;
    return [`${ledger.trial.cropNames[crop]} ${what}`];
  });
  if (words.length === 0) return undefined;
  return `${ledger.seasons.at(-1)?.year} is not over: ${words.join('; ')}.`;
}

/** The same as a note. */
export function soFarNote(
  ledger: Ledger,
  request: Pick<ReportRequest, 'today'>,
  records: readonly CropRecord[],
): Note | undefined {
  const text = soFarSentence(ledger, request, records);
  return text === undefined ? undefined : shownNote('evidence', text);
}
