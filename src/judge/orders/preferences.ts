import type { Cultivar } from '../../model/collection.ts';
import type { Sample } from '../../model/entries.ts';
import { CROPS, type Crop, type Ledger } from '../../model/ledger.ts';
import { normalQuantile } from '../../stats/distributions/normal-quantile.ts';
import { twoSidedTail } from '../../stats/distributions/two-sided-tail.ts';
import type { Interval } from '../../stats/numbers/interval.ts';
import { type PlackettLuce, plackettLuce } from '../../stats/orders/plackett-luce.ts';
import { quasiVariances } from '../../stats/orders/quasi-variances.ts';
import type { OrderSheet } from './order-sheets.ts';

/** What tasters' orders of one crop add up to. */
export interface Preferences {
  readonly crop: Crop;
  /** That appear in an order with another, in the ledger's order. */
  readonly cultivars: readonly Cultivar[];
  /** Orders that compare two cultivars or more. */
  readonly sheets: readonly OrderSheet[];
  /** By cultivar: the orders that it appears in. */
  readonly orders: readonly number[];
  readonly model: PlackettLuce;
  /** Places in `cultivars`, the cultivars of each comparable among themselves. */
  readonly groups: readonly (readonly number[])[];
  /** By cultivar: place in `groups`. */
  readonly groupOf: readonly number[];
  /** By cultivar: quasi standard error of the log worth, where there is one. */
  readonly errors: readonly (number | undefined)[];
}

/**
 * Plackett-Luce worths of the cultivars of each crop, early before main. A crop without an order
 * that compares two cultivars is left out. Tasters of one sitting put the same plates in order, so
 * their orders share the luck of these (`sharedLuck`).
 *
 * @param prior see `plackettLuce`; 0 is plain maximum likelihood
 */
export function preferences(
  ledger: Ledger,
  sheets: readonly OrderSheet[],
  prior: number,
): readonly Preferences[] {
  return CROPS.flatMap((crop) => {
    const told = sheets
      .filter((sheet) => sheet.crop === crop)
      .map((sheet) => ({ sheet, ways: cultivarOrders(sheet.ranks) }))
      .filter(({ ways }) => ways.length > 0);
    const named = told.map(({ ways }) => new Set(ways[0]?.ranks.flat()));
    const cultivars = [...ledger.cultivars.values()].filter(({ key }) =>
      named.some((keys) => keys.has(key)),
    );
    if (cultivars.length === 0) return [];
    const numbers = new Map(cultivars.map(({ key }, number) => [key, number]));
    const ways = told.flatMap((one) => one.ways);
    const sittings = [...new Set(told.map(({ sheet }) => sheet.tasting))];
    const model = plackettLuce(
      ways.map(({ ranks }) => ranks.map((rank) => rank.map((key) => numbers.get(key) ?? 0))),
      cultivars.length,
      {
        prior,
        times: ways.map(({ weight }) => weight),
        // One taster a sitting shares no luck with another.
        ...(sittings.length === told.length
          ? {}
          : {
              clusters: told.flatMap(({ sheet, ways }) =>
                ways.map(() => sittings.indexOf(sheet.tasting)),
              ),
            }),
      },
    );
    // A tie joins two of which one was never beaten; then nothing bounds how far they are apart.
    const apartIfRunOff = (group: readonly number[]) =>
      hasRunOff(model, group) ? group.map((one) => [one]) : [group];
    const groups = prior > 0 ? largestFirst(model.groups) : model.groups.flatMap(apartIfRunOff);
    return [
      {
        crop,
        cultivars,
        sheets: told.map(({ sheet }) => sheet),
        orders: cultivars.map(({ key }) => named.filter((keys) => keys.has(key)).length),
        model,
        groups,
        groupOf: cultivars.map((_, at) => groups.findIndex((group) => group.includes(at))),
        errors: quasiErrors(model, groups),
      },
    ];
  });
}

function largestFirst(groups: readonly (readonly number[])[]): (readonly number[])[] {
  return groups.toSorted((a, b) => b.length - a.length);
}

/**
 * Variances of a difference of log worths beyond these tell that the search ran off: a thousand
 * million orders would not reach the one, and the other spans more than any odds.
 */
const LEAST_VARIANCE = 1e-9;
const MOST_VARIANCE = 1e6;

function quasiErrors(
  { covariance, converged, logWorths }: PlackettLuce,
  groups: readonly (readonly number[])[],
): (number | undefined)[] {
  const errors = new Array<number | undefined>(logWorths.length).fill(undefined);
  if (!converged) return errors;
  for (const group of groups) {
    const own = group.map((i) => group.map((j) => covariance[i]?.[j] ?? 0));
    if (group.length < 2 || !isSettled(own)) continue;
    const found = quasiVariances(own)?.standardErrors ?? [];
    for (const [place, item] of group.entries()) errors[item] = found[place];
  }
  return errors;
}

function isSettled(covariance: readonly (readonly number[])[]): boolean {
  return covariance.every((row, i) =>
    row.every((_, j) => i === j || isVariance(differenceVariance(covariance, i, j))),
  );
}

function hasRunOff({ covariance }: PlackettLuce, group: readonly number[]): boolean {
  return group.some((i) => group.some((j) => differenceVariance(covariance, i, j) > MOST_VARIANCE));
}

function isVariance(variance: number): boolean {
  return variance > LEAST_VARIANCE && variance < MOST_VARIANCE;
}

function differenceVariance(
  covariance: readonly (readonly number[])[],
  i: number,
  j: number,
): number {
  const at = (row: number, column: number) => covariance[row]?.[column] ?? 0;
  return at(i, i) + at(j, j) - at(i, j) - at(j, i);
}

/**
 * Interval of a cultivar's log worth by its quasi standard error, made for comparing rows with each
 * other; `undefined` where there is none.
 *
 * Formula: log worth -+ z quasi standard error (Firth and de Menezes 2004, Biometrika 91:65-80).
 *
 * @param confidence a fraction, such as 0.95
 */
export function worthLimits(
  { model, errors }: Preferences,
  cultivar: number,
  confidence: number,
): Interval | undefined {
  const se = errors[cultivar];
  if (se === undefined) return undefined;
  const reach = -normalQuantile(twoSidedTail(confidence)) * se;
  const logWorth = model.logWorths[cultivar] ?? 0;
  return { low: logWorth - reach, high: logWorth + reach };
}

/** How often one is placed before another, ties aside, as a share of 1. */
export interface PairChance {
  readonly chance: number;
  readonly low: number | undefined;
  readonly high: number | undefined;
}

/**
 * Chance that the first is placed before the second where one of the two is, from the difference of
 * log worths and its standard error; `undefined` if they cannot be compared.
 *
 * Formula: 1 / (1 + exp(-d)), d the difference of log worths; limits from those of d (Luce 1959,
 * Individual Choice Behavior).
 */
export function pairChance(
  preference: Preferences,
  a: number,
  b: number,
  confidence: number,
): PairChance | undefined {
  const { model, groupOf } = preference;
  if (a === b || groupOf[a] !== groupOf[b]) return undefined;
  const difference = (model.logWorths[a] ?? 0) - (model.logWorths[b] ?? 0);
  const chance = logistic(difference);
  const variance = differenceVariance(model.covariance, a, b);
  if (!model.converged || !isVariance(variance)) {
    return { chance, low: undefined, high: undefined };
  }
  const reach = -normalQuantile(twoSidedTail(confidence)) * Math.sqrt(variance);
  return { chance, low: logistic(difference - reach), high: logistic(difference + reach) };
}

/**
 * Chance that a cultivar is placed before an imagined one in the middle of its group, with log worth
 * 0; limits from those of `worthLimits`, so that rows can be compared with each other.
 */
export function middlingChance(
  preference: Preferences,
  cultivar: number,
  confidence: number,
): PairChance {
  const limits = worthLimits(preference, cultivar, confidence);
  return {
    chance: logistic(preference.model.logWorths[cultivar] ?? 0),
    low: limits === undefined ? undefined : logistic(limits.low),
    high: limits === undefined ? undefined : logistic(limits.high),
  };
}

function logistic(x: number): number {
  return 1 / (1 + Math.exp(-x));
}

/** An order of cultivars, best first, and what it counts. */
interface CultivarOrder {
  /** Keys of cultivars; those in the same list are tied. */
  readonly ranks: readonly (readonly string[])[];
  /** 1 for a whole order. */
  readonly weight: number;
}

/** Past so many ways of choosing one plate a cultivar, only the best plate of each counts. */
const MOST_WAYS = 1000;

/**
 * An order of plates as orders of cultivars. Where a cultivar has several plates in it, each of
 * them stands for it in turn, every way counting alike and all ways together as one order: counting
 * only the best plate would favour a cultivar for being served often. Empty where the plates are
 * all of one cultivar.
 */
export function cultivarOrders(ranks: readonly (readonly Sample[])[]): readonly CultivarOrder[] {
  const places = new Map<string, number[]>();
  for (const [place, rank] of ranks.entries()) {
    for (const { tree } of rank) {
      const own = places.get(tree.cultivar.key) ?? [];
      own.push(place);
      places.set(tree.cultivar.key, own);
    }
  }
  if (places.size < 2) return [];
  const ways = [...places.values()].reduce((all, own) => all * own.length, 1);
  const options = [...places].map(([key, own]) => ({
    key,
    places: ways > MOST_WAYS ? own.slice(0, 1) : own,
  }));
  const chosen = options.reduce<(readonly Standing[])[]>(
    (before, { key, places }) =>
      before.flatMap((way) => places.map((place) => [...way, { key, place }])),
    [[]],
  );
  return chosen.map((way) => ({ ranks: inOrder(way), weight: 1 / chosen.length }));
}

interface Standing {
  readonly key: string;
  readonly place: number;
}

function inOrder(way: readonly Standing[]): string[][] {
  const places = [...new Set(way.map(({ place }) => place))].sort((a, b) => a - b);
  return places.map((place) => way.filter((one) => one.place === place).map(({ key }) => key));
}
