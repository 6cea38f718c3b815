import type { Tree } from '../model/collection.ts';
import { type IsoDate, parseIsoDate } from '../model/dates.ts';
import type { Pick } from '../model/entries.ts';
import type { Crop, Ledger } from '../model/ledger.ts';
import { groupBy } from './group-by.ts';

/** When a crop was picked in past seasons, as days of the season that is asked for. */
export interface PickWindow {
  readonly first: IsoDate;
  readonly last: IsoDate;
  /** Past seasons that it rests on, oldest first. */
  readonly seasons: readonly number[];
  /** Whether the tree itself was picked, or only others of its cultivar. */
  readonly from: 'tree' | 'cultivar';
}

/**
 * Looks up the window from the first to the last pick of ripe fruit over all seasons before one:
 * of the tree itself, else of its cultivar; `undefined` if neither was picked.
 *
 * Common practice, no source.
 */
export function pickWindows(
  ledger: Ledger,
  season: number,
): (tree: Tree, crop: Crop) => PickWindow | undefined {
  const past = ledger.seasons
    .filter(({ year }) => year < season)
    .flatMap(({ picks }) => picks)
    .filter((pick) => pick.fruit > pick.defects.unripe);
  const byTree = groupBy(past, ({ tree, crop }) => `${crop} ${tree.id}`);
  const byCultivar = groupBy(past, ({ tree, crop }) => `${crop} ${tree.cultivar.key}`);
  return (tree, crop) =>
    windowOf(byTree.get(`${crop} ${tree.id}`) ?? [], season, 'tree') ??
    windowOf(byCultivar.get(`${crop} ${tree.cultivar.key}`) ?? [], season, 'cultivar');
}

function windowOf(
  picks: readonly Pick[],
  season: number,
  from: PickWindow['from'],
): PickWindow | undefined {
  const days = picks.map((pick) => sameDayIn(pick.on, season - pick.season)).toSorted();
  const [first, last] = [days[0], days.at(-1)];
  if (first === undefined || last === undefined) return undefined;
  const seasons = [...new Set(picks.map((pick) => pick.season))].toSorted((a, b) => a - b);
  return { first, last, seasons, from };
}

/** The same day of the calendar some years on; 29 February becomes the 28th where there is none. */
export function sameDayIn(date: IsoDate, years: number): IsoDate {
  const year = String(Number(date.slice(0, 4)) + years).padStart(4, '0');
  const day = parseIsoDate(`${year}${date.slice(4)}`);
  return day ?? (`${year}-02-28` as IsoDate);
}
