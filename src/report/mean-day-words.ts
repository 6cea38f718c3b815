import { total } from '../measure/total.ts';
import { addDays, daysBetween, growingYear, type IsoDate } from '../model/dates.ts';
import type { Ledger } from '../model/ledger.ts';

const MONTHS = 'Jan Feb Mar Apr May Jun Jul Aug Sep Oct Nov Dec'.split(' ');

/**
 * The mean day of the growing year over some seasons, as "12 Sep"; `undefined` without any. Days
 * are counted from the first of the growing year, so that a season over New Year has a mean too.
 */
export function meanDayWords(
  ledger: Ledger,
  days: readonly (readonly [season: number, day: IsoDate])[],
): string | undefined {
  const last = days.at(-1);
  if (last === undefined) return undefined;
  const first = (season: number) => growingYear(season, ledger.trial.place.latitude).first;
  const offset = total(days, ([season, day]) => daysBetween(first(season), day)) / days.length;
  const [, month, day] = addDays(first(last[0]), Math.round(offset)).split('-').map(Number);
  return `${day} ${MONTHS[(month ?? 1) - 1]}`;
}
