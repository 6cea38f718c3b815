import { groupBy } from '../../measure/group-by.ts';
import { type Spray, sprayDiary } from '../../measure/spray-diary.ts';
import type { Cultivar, Tree } from '../../model/collection.ts';
import { addDays, daysBetween, growingYear, type IsoDate, seasonOf } from '../../model/dates.ts';
import type { Pick } from '../../model/entries.ts';
import type { Crop, Ledger, Season } from '../../model/ledger.ts';
import { siteOn } from '../../model/standing.ts';
import { fruitLeft } from './fruit-left.ts';

/** A pick this many days ago still says that fruit is ripe; common practice, no source. */
export const RECENT_DAYS = 10;
/** A calendar of past seasons is read this many days wider at both ends. */
export const CALENDAR_SLACK = 5;

/** What tells that a tree's fruit is ripe about a day. */
export type RipeSign =
  | { readonly kind: 'picked'; readonly on: IsoDate }
  /** Seasons in whose picking time the day lies, out of all the past seasons with picks. */
  | { readonly kind: 'calendar'; readonly seasons: readonly number[]; readonly of: number }
  /** Someone says so. */
  | { readonly kind: 'told' };

/** A cultivar's ripe crop and the tree to take it from. */
export interface RipeCultivar {
  readonly cultivar: Cultivar;
  readonly tree: Tree;
  /** Key of the site where the tree stands that day. */
  readonly site: string;
  readonly sign: RipeSign;
  /** Fruit that the tree should still bear; undefined where it was not counted this season. */
  readonly fruitLeft: number | undefined;
}

/** A tree whose fruit is not offered though it may be ripe, with the reason. */
export interface TreeLeftOut {
  readonly cultivar: Cultivar;
  readonly tree: Tree;
  readonly why: { readonly kind: 'spray'; readonly spray: Spray } | { readonly kind: 'empty' };
}

export interface RipeAbout {
  /** In the ledger's order of cultivars. */
  readonly ripe: readonly RipeCultivar[];
  /** The same with every tree that it may be taken from, the one with most fruit left first. */
  readonly trees: readonly RipeCultivar[];
  readonly leftOut: readonly TreeLeftOut[];
}

/**
 * Which cultivars of a crop are ripe about a day, each with the tree that should have most fruit
 * left; trees not counted this season come after those that were.
 *
 * A tree is ripe if it was picked within the last ten days; else, where it has not been picked this
 * season within that time, if the day lies in its picking time (first to last pick, five days wider
 * at both ends) in at least half of the past seasons in which it was picked. Entries after the day
 * are not looked at. Left out: trees in the waiting days of a spray, whatever else is asked for;
 * trees with no fruit left by their counts; trees that were taken out.
 *
 * @param told keys of cultivars to look at, ripe or not; left out, all that are ripe
 */
export function ripeAbout(
  ledger: Ledger,
  crop: Crop,
  on: IsoDate,
  told?: readonly string[] | undefined,
): RipeAbout {
  const season = seasonOf(on, ledger.trial.place.latitude);
  const own = picksBySeason(ledger, crop, on);
  const signOf = (tree: Tree): RipeSign | undefined =>
    recentSign(own.get(season)?.get(tree), on) ??
    calendarSign(ledger, own, tree, season, on) ??
    (told === undefined ? undefined : { kind: 'told' });
  const sprayOn = sprayDiary(ledger);
  const leftOut: TreeLeftOut[] = [];
  const offered: RipeCultivar[] = [];
  for (const tree of ledger.trees.values()) {
    if (told !== undefined && !told.includes(tree.cultivar.key)) continue;
    if (tree.removed !== undefined && tree.removed.earliest <= on) continue;
    const sign = signOf(tree);
    if (sign === undefined) continue;
    const { cultivar } = tree;
    const left = fruitLeft(seasonAt(ledger, season), tree, crop, on);
    const spray = sprayOn(tree, on);
    if (left !== undefined && left <= 0) leftOut.push({ cultivar, tree, why: { kind: 'empty' } });
    else if (spray !== undefined) leftOut.push({ cultivar, tree, why: { kind: 'spray', spray } });
    else offered.push({ cultivar, tree, site: siteOn(ledger, tree, on), sign, fruitLeft: left });
  }
  const byCultivar = groupBy(offered, ({ cultivar }) => cultivar);
  const trees = [...ledger.cultivars.values()].map((cultivar) =>
    (byCultivar.get(cultivar) ?? []).toSorted(mostLeft),
  );
  return { ripe: trees.flatMap(([first]) => first ?? []), trees: trees.flat(), leftOut };
}

function seasonAt(ledger: Ledger, year: number): Season | undefined {
  return ledger.seasons.find((season) => season.year === year);
}

/** Most fruit left first, then what is surest ripe; those not counted come last. */
function mostLeft(a: RipeCultivar, b: RipeCultivar): number {
  const sure = ({ sign }: RipeCultivar) => SURENESS.indexOf(sign.kind);
  return (b.fruitLeft ?? -1) - (a.fruitLeft ?? -1) || sure(a) - sure(b);
}

const SURENESS: readonly RipeSign['kind'][] = ['picked', 'calendar', 'told'];

type TreePicks = ReadonlyMap<Tree, readonly Pick[]>;

/** Picks with any fruit up to a day, by season and tree. */
function picksBySeason(ledger: Ledger, crop: Crop, upTo: IsoDate): ReadonlyMap<number, TreePicks> {
  return new Map(
    ledger.seasons.map(({ year, picks }) => [
      year,
      groupBy(
        picks.filter((pick) => pick.crop === crop && pick.on <= upTo && ripeFruit(pick) > 0),
        (pick) => pick.tree,
      ),
    ]),
  );
}

/** Fruit of a pick that was ripe: what came off unripe tells nothing of ripening. */
function ripeFruit({ fruit, defects }: Pick): number {
  return fruit - defects.unripe;
}

function recentSign(picks: readonly Pick[] = [], on: IsoDate): RipeSign | undefined {
  const from = addDays(on, -RECENT_DAYS);
  const recent = picks.filter((pick) => pick.on >= from).map((pick) => pick.on);
  const last = recent.toSorted().at(-1);
  return last === undefined ? undefined : { kind: 'picked', on: last };
}

function calendarSign(
  ledger: Ledger,
  bySeason: ReadonlyMap<number, TreePicks>,
  tree: Tree,
  season: number,
  on: IsoDate,
): RipeSign | undefined {
  const { latitude } = ledger.trial.place;
  // From the end of the growing year back, so that a leap day in its spring shifts nothing.
  const dayOf = (date: IsoDate, year: number) =>
    daysBetween(growingYear(year, latitude).last, date);
  const today = dayOf(on, season);
  const past = [...bySeason].flatMap(([year, trees]) => {
    const days = (trees.get(tree) ?? []).map((pick) => dayOf(pick.on, year));
    return year >= season || days.length === 0
      ? []
      : [{ year, first: Math.min(...days), last: Math.max(...days) }];
  });
  const seasons = past
    .filter(({ first, last }) => today >= first - CALENDAR_SLACK && today <= last + CALENDAR_SLACK)
    .map(({ year }) => year);
  return seasons.length === 0 || 2 * seasons.length < past.length
    ? undefined
    : { kind: 'calendar', seasons, of: past.length };
}
