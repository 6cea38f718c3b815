import type { Trial } from '../../model/ledger.ts';

/** Degrees from the equator within which fruit ripens at any time. */
const TROPICS = 25;

/** Whether the year of a place has a winter; where no latitude is known it has one. */
export function hasWinter({ latitude }: Trial['place']): boolean {
  return latitude === undefined || Math.abs(latitude) >= TROPICS;
}

/** What a doubt of a season comes from where a ledger of the south does not say where it is. */
export function southUnsaid({ latitude }: Trial['place']): string {
  return latitude === undefined
    ? '. South of the equator add the latitude to place: in ledger.yaml, as in latitude: -43'
    : '';
}

/**
 * Days into the growing year, which begins in midwinter on both sides of the equator: from the middle
 * of June to that of August, or of December to that of February (common practice, no source).
 */
export const HIGH_SUMMER = { first: 166, last: 226 } as const;
