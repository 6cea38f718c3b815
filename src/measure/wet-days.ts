import type { Tree } from '../model/collection.ts';
import type { IsoDate } from '../model/dates.ts';
import { dateOfDay, dayNumber } from '../model/dates.ts';
import type { Ledger } from '../model/ledger.ts';
import { touches } from '../model/touches.ts';
import { groupBy } from './group-by.ts';

/** What fruit may split after. */
export type Wetting = 'rain' | 'water';

export interface WettingOptions {
  readonly after: Wetting;
  /** Days before a pick that still count; the day of the pick counts too. */
  readonly withinDays: number;
  /** Least rain of a day that counts, mm. Common practice, no source: 2 mm. */
  readonly rainFrom?: number | undefined;
}

export const RAIN_FROM = 2;

/**
 * Whether a tree was wetted on a day or on one of the days before it; `undefined` where it cannot
 * be known, since rain is missing on one of these days and none of the others was wet.
 */
export type WasWetted = (tree: Tree, on: IsoDate) => boolean | undefined;

/** Tells of any tree and day whether rain fell, or water was given, shortly before. */
export function wettingBefore(ledger: Ledger, options: WettingOptions): WasWetted {
  const isWetOn = options.after === 'rain' ? rainOn(ledger, options) : waterOn(ledger);
  return (tree, on) => {
    let known = true;
    for (let back = 0; back <= options.withinDays; back += 1) {
      const wet = isWetOn(tree, dateOfDay(dayNumber(on) - back));
      if (wet === true) return true;
      if (wet === undefined) known = false;
    }
    return known ? false : undefined;
  };
}

function rainOn(ledger: Ledger, { rainFrom = RAIN_FROM }: WettingOptions): WasWetted {
  const rain = new Map<IsoDate, number | undefined>();
  for (const days of ledger.weather.values()) for (const day of days) rain.set(day.date, day.rain);
  return (_tree, on) => {
    const fallen = rain.get(on);
    return fallen === undefined ? undefined : fallen >= rainFrom;
  };
}

function waterOn(ledger: Ledger): WasWetted {
  const waterings = ledger.seasons
    .flatMap((season) => season.events)
    .filter((event) => event.kind === 'water');
  const byDay = groupBy(waterings, (event) => event.on);
  return (tree, on) => byDay.get(on)?.some((event) => touches(ledger, event, tree)) ?? false;
}
