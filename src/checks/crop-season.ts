import { type Diagnostic, diagnose, wording } from '../diagnostics/diagnostic.ts';
import { dayCount } from '../diagnostics/phrases.ts';
import { groupBy } from '../measure/group-by.ts';
import { isFig } from '../model/bearing.ts';
import { dayNumber, growingYear } from '../model/dates.ts';
import type { Count, Pick } from '../model/entries.ts';
import type { Crop, Ledger } from '../model/ledger.ts';
import { siteOn } from '../model/standing.ts';
import { spotIn } from '../source/source-file.ts';
import { hasWinter, southUnsaid } from './parts/year-parts.ts';
import type { Rule } from './rule.ts';

type OutOfSeason =
  | { readonly kind: 'after main' | 'before early'; readonly other: string }
  | {
      readonly kind: 'far from other years';
      readonly direction: 'before' | 'after';
      readonly days: number;
      readonly cultivar: string;
    }
  | { readonly kind: 'late in the year' | 'early in the year' };

const cropOutOfSeasonWords = wording<{
  tree: string;
  /** The ledger's own words for this crop and the other one. */
  crop: string;
  other: string;
  what: 'picked' | 'counted';
  on: string;
  why: OutOfSeason;
  south: string;
}>({
  rule: 'crop-out-of-season',
  severity: 'warning',
  why: 'The two crops of a tree come one after the other, each at its own time, so an entry of the wrong crop or on a wrong date shows by its day. How far is far is common practice.',
  message: ({ tree, crop, other, what, on, why }) =>
    `the ${crop} crop of tree ${tree} is ${what} on ${on}, ${outOfSeason(why, other)}`,
  advice: ({ other, south }) =>
    `was it the ${other} crop, or another day? If it is right, leave it${south}`,
});

/*
 * The two crops of a tree come one after the other, each at its own time of the year, so that an
 * entry of the wrong crop shows by its day. How far is far is common practice, no source.
 */
export const cropOutOfSeason: Rule = { words: [cropOutOfSeasonWords], check: findCropOutOfSeason };

/** Days for which the end of the early crop and the beginning of the main crop may overlap. */
const OVERLAP = 14;
/** Days before or after all that other years gave. */
const FAR = 45;
/** Fewer picks of other years do not tell when a crop is ripe. */
const ENOUGH_PICKS = 5;
/** Days into the growing year from which no early crop is ripe: its last quarter. */
const LAST_QUARTER = 273;
/** Degrees from the equator from which figs in the open ripen late enough to be asked about early ones. */
const COOL = 40;
/**
 * Days into the growing year before which no fig is ripe in the open there, from the middle of May
 * and the beginning of July on.
 */
const EARLIEST: Readonly<Record<Crop, number>> = { early: 134, main: 181 };

interface Seen {
  readonly entry: Pick | Count;
  /** Days from the first of the growing year. */
  readonly day: number;
  readonly isPick: boolean;
}

function* findCropOutOfSeason(ledger: Ledger): Generator<Diagnostic> {
  const { cropNames, place, fruit, sites } = ledger.trial;
  const seen = allSeen(ledger);
  const usual = new UsualDays(ledger, seen);
  const isCool = isFig(fruit) && Math.abs(place.latitude ?? COOL) >= COOL;
  const oddInYear = ({ entry, day, isPick }: Seen): OutOfSeason | undefined => {
    const { tree, crop, on } = entry;
    if (hasWinter(place) && crop === 'early' && day >= LAST_QUARTER)
      return { kind: 'late in the year' };
    const isSoon = isCool && isPick && day < EARLIEST[crop];
    return isSoon && sites.get(siteOn(ledger, tree, on))?.cover === 'open'
      ? { kind: 'early in the year' }
      : undefined;
  };
  const ofTrees = groupBy(seen, ({ entry }) => `${entry.season} ${entry.tree.id}`);
  for (const ofTree of ofTrees.values()) {
    const clashes = clashing(ofTree);
    for (const group of groupBy(ofTree, ({ entry }) => entry.crop).values()) {
      const asked = group
        .toSorted((a, b) => a.day - b.day)
        .map((one) => [one, clashes.get(one) ?? usual.farFrom(one) ?? oddInYear(one)] as const)
        // One slip often repeats: the first of a tree's crop is asked about.
        .find(([, why]) => why !== undefined);
      const [one, why] = asked ?? [];
      if (one === undefined || why === undefined) continue;
      const { tree, crop, on, at } = one.entry;
      const facts = {
        tree: tree.id,
        crop: cropNames[crop],
        other: cropNames[crop === 'early' ? 'main' : 'early'],
        what: one.isPick ? ('picked' as const) : ('counted' as const),
        on,
        why,
        south: southUnsaid(place),
      };
      yield diagnose(cropOutOfSeasonWords, spotIn(at, 'crop'), facts);
    }
  }
}

/** Picks of both crops, and counts of the early one; the main crop may be counted at any time. */
function allSeen(ledger: Ledger): readonly Seen[] {
  return ledger.seasons.flatMap(({ year, picks, counts }) => {
    const { first: firstDay, last } = growingYear(year, ledger.trial.place.latitude);
    const first = dayNumber(firstDay);
    const seen = (isPick: boolean) => (entry: Pick | Count) => ({
      entry,
      day: dayNumber(entry.on) - first,
      isPick,
    });
    const early = counts.filter(({ crop }) => crop === 'early');
    return [...picks.map(seen(true)), ...early.map(seen(false))].filter(
      // A day of another year is asked about as such.
      ({ entry, day }) => entry.fruit > 0 && day >= 0 && entry.on <= last,
    );
  });
}

/**
 * Entries of a tree and season on the wrong side of its other crop. Which crop is wrong the smaller
 * number tells: one slip stands against many that are right.
 */
function clashing(seen: readonly Seen[]): ReadonlyMap<Seen, OutOfSeason> {
  const early = inOrder(seen, 'early');
  const main = inOrder(seen, 'main');
  const [firstMain, lastEarly] = [main[0], early.at(-1)];
  if (firstMain === undefined || lastEarly === undefined) return new Map();
  const late = early.filter(({ day }) => day > firstMain.day + OVERLAP);
  const soon = main.filter(({ day }) => day < lastEarly.day - OVERLAP);
  return late.length <= soon.length
    ? new Map(late.map((one) => [one, { kind: 'after main', other: firstMain.entry.on }]))
    : new Map(soon.map((one) => [one, { kind: 'before early', other: lastEarly.entry.on }]));
}

function inOrder(seen: readonly Seen[], crop: Crop): readonly Seen[] {
  return seen.filter(({ entry }) => entry.crop === crop).sort((a, b) => a.day - b.day);
}

/** First and last day of the picks of a season, and how many there were. */
interface Span {
  readonly first: number;
  readonly last: number;
  readonly picks: number;
}

/** On which days a cultivar's crop was picked at a site, by season. */
class UsualDays {
  readonly #ledger: Ledger;
  readonly #spans = new Map<string, Map<number, Span>>();

  constructor(ledger: Ledger, seen: readonly Seen[]) {
    this.#ledger = ledger;
    for (const one of seen) {
      if (!one.isPick) continue;
      const key = this.#key(one);
      const seasons = this.#spans.get(key) ?? new Map<number, Span>();
      this.#spans.set(key, seasons);
      const { season } = one.entry;
      seasons.set(season, together([seasons.get(season) ?? NOTHING, at(one.day)]));
    }
  }

  farFrom(one: Seen): OutOfSeason | undefined {
    const seasons = this.#spans.get(this.#key(one)) ?? new Map<number, Span>();
    const others = [...seasons].filter(([season]) => season !== one.entry.season);
    const { first, last, picks } = together(others.map(([, span]) => span));
    if (picks < ENOUGH_PICKS) return undefined;
    const cultivar = one.entry.tree.cultivar.name;
    const kind = 'far from other years';
    if (one.day - last > FAR) return { kind, direction: 'after', days: one.day - last, cultivar };
    // A count comes before the picks.
    if (first - one.day <= FAR || !one.isPick) return undefined;
    return { kind, direction: 'before', days: first - one.day, cultivar };
  }

  #key({ entry: { tree, crop, on } }: Seen): string {
    return `${crop} ${siteOn(this.#ledger, tree, on)} ${tree.cultivar.key}`;
  }
}

const NOTHING: Span = {
  first: Number.POSITIVE_INFINITY,
  last: Number.NEGATIVE_INFINITY,
  picks: 0,
};

function at(day: number): Span {
  return { first: day, last: day, picks: 1 };
}

function together(spans: readonly Span[]): Span {
  return spans.reduce(
    (all, { first, last, picks }) => ({
      first: Math.min(all.first, first),
      last: Math.max(all.last, last),
      picks: all.picks + picks,
    }),
    NOTHING,
  );
}

function outOfSeason(why: OutOfSeason, other: string): string {
  switch (why.kind) {
    case 'after main':
      return `when its ${other} crop has been picked since ${why.other}`;
    case 'before early':
      return `long before the last of its ${other} crop on ${why.other}`;
    case 'far from other years':
      return `${dayCount(why.days)} ${why.direction} all picks of ${why.cultivar} in other years there`;
    case 'late in the year':
      return 'late in the growing year for it';
    case 'early in the year':
      return 'before any is ripe in the open';
  }
}
