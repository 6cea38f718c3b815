import type { IsoDate } from '../model/dates.ts';
import { addDays, daysBetween, growingYear } from '../model/dates.ts';
import type { Ledger, WeatherDay } from '../model/ledger.ts';
import { degreeDays } from '../stats/describe/degree-days.ts';

/** Degree-days up to a day, or the first day whose temperatures are missing. */
export type DegreeDaySum =
  | { readonly known: true; readonly degreeDays: number }
  | { readonly known: false; readonly missing: IsoDate };

const runsOf = new WeakMap<Ledger, Map<number, readonly number[]>>();

/**
 * Degree-days from the first day of a season's growing year to a date, both included, by the base,
 * upper limit and method of the ledger (McMaster & Wilhelm 1997, Agricultural and Forest
 * Meteorology 87:291-300; Baskerville & Emin 1969, Ecology 50:514-517). A sum with a gap in it would
 * be too low, so there is none.
 *
 * Units: degC days.
 */
export function degreeDaysUntil(ledger: Ledger, season: number, date: IsoDate): DegreeDaySum {
  const { first } = growingYear(season, ledger.trial.place.latitude);
  const run = runningSum(ledger, season, first);
  const reached = run[daysBetween(first, date)];
  return reached === undefined
    ? { known: false, missing: addDays(first, run.length) }
    : { known: true, degreeDays: reached };
}

/** Sums by day of the growing year, as far as temperatures go without a gap. */
function runningSum(ledger: Ledger, season: number, first: IsoDate): readonly number[] {
  let seasons = runsOf.get(ledger);
  if (seasons === undefined) {
    seasons = new Map();
    runsOf.set(ledger, seasons);
  }
  let run = seasons.get(season);
  if (run === undefined) {
    run = sumDays(
      ledger,
      new Map(ledger.weather.get(season)?.map((day) => [day.date, day])),
      first,
    );
    seasons.set(season, run);
  }
  return run;
}

function sumDays(
  ledger: Ledger,
  days: ReadonlyMap<IsoDate, WeatherDay>,
  first: IsoDate,
): readonly number[] {
  const run: number[] = [];
  let total = 0;
  for (let date = first; ; date = addDays(date, 1)) {
    const { tmin, tmax } = days.get(date) ?? {};
    // A day whose lowest is above its highest is as good as missing.
    if (tmin === undefined || tmax === undefined || tmin > tmax) return run;
    total += degreeDays(tmin, tmax, ledger.trial.degreeDays);
    run.push(total);
  }
}
