import { growingYear, type IsoDate } from './dates.ts';

/**
 * The season that a date belongs to; see `growingYear`.
 *
 * @param latitude degrees north, negative south of the equator
 */
export function seasonOf(date: IsoDate, latitude: number | undefined): number {
  const year = Number(date.slice(0, 4));
  return date > growingYear(year, latitude).last ? year + 1 : year;
}
