import type { IsoDate } from '../model/dates.ts';
import { dateOfDay, dayNumber } from '../model/dates.ts';
import type { Ledger } from '../model/ledger.ts';
import { weightedQuantile } from '../stats/describe/quantile.ts';
import type { CropRecord } from './crop-record.ts';
import type { DegreeDaySum } from './degree-days-until.ts';
import { degreeDaysUntil } from './degree-days-until.ts';
import { total } from './total.ts';
import { type SoFar, soFar } from './under-way.ts';

/** Days by which shares of the fruit were picked. */
export interface PickCalendar {
  readonly first: IsoDate;
  /** First day by which a tenth of the fruit was picked; undefined where it is not in yet. */
  readonly p10: IsoDate | undefined;
  readonly p50: IsoDate | undefined;
  readonly p90: IsoDate | undefined;
  /** The last yet, where the crop is under way. */
  readonly last: IsoDate;
  /** last - first; undefined where the crop is under way. */
  readonly windowDays: number | undefined;
  /** Undefined where the crop is over. */
  readonly soFar: SoFar | undefined;
}

/** When a crop came in, in one season. */
export interface RipeningFigures extends PickCalendar {
  /** From the first day of the growing year to p50, where that is known. */
  readonly degreeDays: DegreeDaySum | undefined;
  /** Share of the load that was picked on or before the season's first frost, where that is known. */
  readonly shareBeforeFrost: number | undefined;
}

/**
 * Calendar of the picks of some records of one season, each pick weighted by its fruit;
 * `undefined` if nothing was picked. A percentile is the first day by which that share of the fruit
 * was in, so it is always a day of picking. Of a crop under way what hangs by the count is still to
 * come, and no share can be told where nobody counted.
 */
export function pickCalendar(
  records: readonly CropRecord[],
  isUnderWay: (record: CropRecord) => boolean = () => false,
): PickCalendar | undefined {
  const picks = records.flatMap((record) => record.picks).filter((pick) => pick.fruit > 0);
  const picked = picks.map((pick) => dayNumber(pick.on));
  const first = picked.length === 0 ? undefined : Math.min(...picked);
  if (first === undefined) return undefined;
  const last = Math.max(...picked);
  const far = soFar(records, isUnderWay);
  const days = [...picked, last + 1];
  const fruit = [...picks.map((pick) => pick.fruit), toCome(records.filter(isUnderWay))];
  const dayBy = (share: number): IsoDate | undefined => {
    if (far !== undefined && far.of === undefined) return undefined;
    const day = weightedQuantile(days, fruit, share);
    return day === undefined || day > last ? undefined : dateOfDay(day);
  };
  return {
    first: dateOfDay(first),
    p10: dayBy(0.1),
    p50: dayBy(0.5),
    p90: dayBy(0.9),
    last: dateOfDay(last),
    windowDays: far === undefined ? last - first : undefined,
    soFar: far,
  };
}

/** Fruit that hangs by the counts. */
function toCome(records: readonly CropRecord[]): number {
  return total(records, ({ load, picked, dropped }) => load.fruit - picked - dropped);
}

/** Calendar, warmth and frost of some records of one season; `undefined` if nothing was picked. */
export function ripeningFigures(
  ledger: Ledger,
  records: readonly CropRecord[],
  season: number,
  isUnderWay?: (record: CropRecord) => boolean,
): RipeningFigures | undefined {
  const calendar = pickCalendar(records, isUnderWay);
  if (calendar === undefined) return undefined;
  return {
    ...calendar,
    degreeDays:
      calendar.p50 === undefined ? undefined : degreeDaysUntil(ledger, season, calendar.p50),
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
