import type { IsoDate } from '../model/dates.ts';
import { dateOfDay, dayNumber } from '../model/dates.ts';
import type { Ledger } from '../model/ledger.ts';
import { weightedQuantile } from '../stats/describe/weighted-quantile.ts';
import type { CropRecord } from './crop-record.ts';
import type { DegreeDaySum } from './degree-days-until.ts';
import { degreeDaysUntil } from './degree-days-until.ts';
import { total } from './total.ts';

/** Days by which shares of the fruit were picked. */
export interface PickCalendar {
  readonly first: IsoDate;
  /** First day by which a tenth of the fruit was picked. */
  readonly p10: IsoDate;
  readonly p50: IsoDate;
  readonly p90: IsoDate;
  readonly last: IsoDate;
  /** last - first */
  readonly windowDays: number;
}

/** When a crop came in, in one season. */
export interface RipeningFigures extends PickCalendar {
  /** From the first day of the growing year to p50. */
  readonly degreeDays: DegreeDaySum;
  /** Share of the load that was picked on or before the season's first frost, where that is known. */
  readonly shareBeforeFrost: number | undefined;
}

/**
 * Calendar of the picks of some records of one season, each pick weighted by its fruit;
 * `undefined` if nothing was picked. A percentile is the first day by which that share of the fruit
 * was in, so it is always a day of picking.
 */
export function pickCalendar(records: readonly CropRecord[]): PickCalendar | undefined {
  const picks = records.flatMap((record) => record.picks).filter((pick) => pick.fruit > 0);
  const days = picks.map((pick) => dayNumber(pick.on));
  const fruit = picks.map((pick) => pick.fruit);
  const dayBy = (share: number): IsoDate | undefined => {
    const day = weightedQuantile(days, fruit, share);
    return day === undefined ? undefined : dateOfDay(day);
  };
  const [first, p10, p50, p90, last] = [0, 0.1, 0.5, 0.9, 1].map(dayBy);
  if (first === undefined || last === undefined) return undefined;
  if (p10 === undefined || p50 === undefined || p90 === undefined) return undefined;
  return { first, p10, p50, p90, last, windowDays: dayNumber(last) - dayNumber(first) };
}

/** Calendar, warmth and frost of some records of one season; `undefined` if nothing was picked. */
export function ripeningFigures(
  ledger: Ledger,
  records: readonly CropRecord[],
  season: number,
): RipeningFigures | undefined {
  const calendar = pickCalendar(records);
  if (calendar === undefined) return undefined;
  return {
    ...calendar,
    degreeDays: degreeDaysUntil(ledger, season, calendar.p50),
    shareBeforeFrost: shareBeforeFrost(records, ledger.trial.frost.get(season)),
  };
}

function shareBeforeFrost(
  records: readonly CropRecord[],
  frost: IsoDate | undefined,
): number | undefined {
  const load = total(records, (record) => record.load.fruit);
  if (frost === undefined || load === 0) return undefined;
  const picks = records.flatMap((record) => record.picks);
  return total(picks, (pick) => (pick.on <= frost ? pick.fruit : 0)) / load;
}
