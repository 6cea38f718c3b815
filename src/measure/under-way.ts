import { addDays, growingYear, type IsoDate } from '../model/dates.ts';
import type { Crop, Ledger, Season } from '../model/ledger.ts';
import type { CropRecord } from './crop-record.ts';
import { cropRecords } from './crop-record.ts';
import { total } from './total.ts';

/** How far a crop that is under way has come. */
export interface SoFar {
  /** Fruit. */
  readonly picked: number;
  /** Fruit of the count; undefined where some tree was not counted. */
  readonly of: number | undefined;
}

/** A crop that is not counted counts as over when so many days went by without a pick. */
const QUIET_DAYS = 28;

/**
 * The last season of the ledger, where it is not over on a day: its growing year is not at an end,
 * and no first frost of it is written down. A day before the last entry is taken for that of the
 * entry, so a clock that is behind hides nothing. Common practice, no source.
 *
 * @param today undefined takes every season for over
 */
export function openSeason(ledger: Ledger, today: IsoDate | undefined): number | undefined {
  const season = ledger.seasons.at(-1);
  if (today === undefined || season === undefined) return undefined;
  const day = dayOf(season, today);
  const { first, last } = growingYear(season.year, ledger.trial.place.latitude);
  const isOver = day < first || day > last || ledger.trial.frost.has(season.year);
  return isOver ? undefined : season.year;
}

function dayOf({ counts, picks, drops }: Season, today: IsoDate): IsoDate {
  return [...counts, ...picks, ...drops].reduce((day, { on }) => (on > day ? on : day), today);
}

/**
 * Whether more fruit is to come of a record: its season is open, and by the counts some still
 * hangs; of a tree that was not counted, where one was picked not long ago. The early crop of a
 * tree is over when its main crop is being picked.
 */
export function recordsUnderWay(
  ledger: Ledger,
  today: IsoDate | undefined,
): (record: CropRecord) => boolean {
  const open = openSeason(ledger, today);
  const season = ledger.seasons.at(-1);
  if (open === undefined || today === undefined || season === undefined) return () => false;
  const quietSince = addDays(dayOf(season, today), -QUIET_DAYS);
  const inMain = new Set(
    cropRecords(ledger)
      .filter((record) => record.season === open && record.crop === 'main' && record.picked > 0)
      .map(({ tree }) => tree),
  );
  return (record) => {
    if (record.season !== open || (record.crop === 'early' && inMain.has(record.tree)))
      return false;
    if (record.counted) return hangs(record);
    return (record.picks.at(-1)?.on ?? '') > quietSince;
  };
}

function hangs({ load, picked, dropped }: CropRecord): boolean {
  return picked + dropped < load.fruit;
}

/** How far some records of one season have come; undefined where all of them are over. */
export function soFar(
  records: readonly CropRecord[],
  isUnderWay: (record: CropRecord) => boolean,
): SoFar | undefined {
  const underWay = records.filter(isUnderWay);
  if (underWay.length === 0) return undefined;
  const isCounted = underWay.every(({ counted }) => counted);
  return {
    picked: total(records, ({ picked }) => picked),
    of: isCounted ? total(records, ({ load }) => load.fruit) : undefined,
  };
}

/** The same for each crop of a season that is under way. */
export function cropsSoFar(
  records: readonly CropRecord[],
  isUnderWay: (record: CropRecord) => boolean,
): ReadonlyMap<Crop, SoFar> {
  const crops = new Set(records.filter(isUnderWay).map(({ crop }) => crop));
  return new Map(
    [...crops].flatMap((crop) => {
      const season = records.find((one) => one.crop === crop && isUnderWay(one))?.season;
      const own = records.filter((one) => one.crop === crop && one.season === season);
      const far = soFar(own, isUnderWay);
      return far === undefined ? [] : [[crop, far] as const];
    }),
  );
}
