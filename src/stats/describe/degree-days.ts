import { requireFinite } from '../numbers/require-finite.ts';

export interface DegreeDayOptions {
  /** temperature below which nothing grows */
  readonly base: number;
  /** temperature above which growth is no faster; none if left out */
  readonly upper?: number | undefined;
  /** how the day's course of temperature is taken from its lowest and highest */
  readonly method: 'mean' | 'cut' | 'sine';
}

const clip = (value: number, low: number, high: number): number =>
  Math.min(Math.max(value, low), high);

/** Degree-days above one threshold when the day is a sine wave between tmin and tmax. */
function sineExcess(tmin: number, tmax: number, threshold: number): number {
  const middle = (tmin + tmax) / 2;
  if (tmin >= threshold) return middle - threshold;
  if (tmax <= threshold) return 0;
  const swing = (tmax - tmin) / 2;
  const crossing = Math.asin(clip((threshold - middle) / swing, -1, 1));
  const warm = (middle - threshold) * (Math.PI / 2 - crossing) + swing * Math.cos(crossing);
  return Math.max(0, warm / Math.PI);
}

/**
 * Growing degree-days of one day from its lowest and highest temperature.
 *
 * Units: degrees times days, in whatever degrees the four temperatures share.
 *
 * - `mean`: the day's mean, (tmin + tmax) / 2, held between base and upper, less base: method 1 of
 *   McMaster & Wilhelm 1997, Agricultural and Forest Meteorology 87:291-300.
 * - `cut`: tmin and tmax each held between base and upper before they are averaged: method 2 there.
 *   The two differ only on days that cross a limit, and then `cut` counts more at the base.
 * - `sine`: area between base and a sine wave from tmin to tmax, Baskerville & Emin 1969, Ecology
 *   50:514-517, with a horizontal cut-off at upper: the area above upper is taken off again.
 *
 * @throws RangeError on a number that is not finite, tmin above tmax, or upper not above base
 * @example degreeDays(4, 20, { base: 10, method: 'cut' }) // => 5
 */
export function degreeDays(
  tmin: number,
  tmax: number,
  { base, upper, method }: DegreeDayOptions,
): number {
  requireFinite('temperatures', [tmin, tmax, base, upper ?? base]);
  if (tmin > tmax) throw new RangeError(`lowest ${tmin} is above highest ${tmax}`);
  if (upper !== undefined && upper <= base) {
    throw new RangeError(`upper limit ${upper} is not above base ${base}`);
  }
  const limit = upper ?? Number.POSITIVE_INFINITY;
  switch (method) {
    case 'mean':
      return clip((tmin + tmax) / 2, base, limit) - base;
    case 'cut':
      return (clip(tmin, base, limit) + clip(tmax, base, limit)) / 2 - base;
    case 'sine': {
      const hot = upper === undefined ? 0 : sineExcess(tmin, tmax, upper);
      return sineExcess(tmin, tmax, base) - hot;
    }
  }
}
