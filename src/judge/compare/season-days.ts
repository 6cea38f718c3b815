import { selectRecords } from '../../measure/crop-record.ts';
import { pickCalendar } from '../../measure/ripening-figures.ts';
import type { Selection } from '../../measure/selection.ts';
import { recordsUnderWay } from '../../measure/under-way.ts';
import { daysBetween, type IsoDate } from '../../model/dates.ts';
import type { Crop, Ledger } from '../../model/ledger.ts';
import { mean } from '../../stats/describe/mean.ts';
import { sampleSd } from '../../stats/describe/variance.ts';
import { tInterval } from '../../stats/intervals/t-interval.ts';

/** How far one is above another; without an interval where no standard error can be had. */
export interface Difference {
  readonly difference: number;
  readonly low: number | undefined;
  readonly high: number | undefined;
}

/** Days by which half of the fruit of each of two cultivars was picked, in one season. */
export interface SeasonDays {
  readonly season: number;
  readonly a: IsoDate;
  readonly b: IsoDate;
}

/**
 * The seasons in which a crop of both cultivars was picked, and in which half of it is in.
 *
 * @param today as of `recordsUnderWay`
 */
export function seasonDays(
  ledger: Ledger,
  selection: Selection,
  crop: Crop,
  [a, b]: readonly [string, string],
  today: IsoDate | undefined,
): readonly SeasonDays[] {
  const isUnderWay = recordsUnderWay(ledger, today);
  const halfPicked = (cultivar: string, season: number) =>
    pickCalendar(
      selectRecords(ledger, {
        ...selection,
        seasons: [season],
        crops: [crop],
        cultivars: [cultivar],
      }),
      isUnderWay,
    )?.p50;
  const { seasons = [] } = selection;
  return ledger.seasons
    .map(({ year }) => year)
    .filter((year) => seasons.length === 0 || seasons.includes(year))
    .flatMap((season) => {
      const [first, second] = [halfPicked(a, season), halfPicked(b, season)];
      return first === undefined || second === undefined ? [] : [{ season, a: first, b: second }];
    });
}

/**
 * Mean over seasons of the days from b to a, negative where a is earlier; a t interval of paired
 * differences on seasons - 1, and none with one season or if all seasons are the same to the day.
 * `undefined` without seasons.
 *
 * Formula: Student 1908, Biometrika 6:1-25.
 *
 * @param confidence a fraction, such as 0.95
 */
export function daysDifference(
  seasons: readonly SeasonDays[],
  confidence: number,
): Difference | undefined {
  const days = seasons.map(({ a, b }) => daysBetween(b, a));
  const difference = mean(days);
  if (difference === undefined) return undefined;
  const sd = sampleSd(days);
  if (sd === undefined || sd === 0) {
    return { difference, low: undefined, high: undefined };
  }
  const se = sd / Math.sqrt(days.length);
  return { difference, ...tInterval(difference, se, days.length - 1, confidence) };
}
