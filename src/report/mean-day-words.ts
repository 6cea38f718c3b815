import { total } from '../measure/total.ts';
import { addDays, daysBetween, growingYear, type IsoDate } from '../model/dates.ts';
import type { Ledger } from '../model/ledger.ts';
import { shortDay } from './day-words.ts';

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
