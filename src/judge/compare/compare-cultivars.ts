import type { Cultivar } from '../../model/collection.ts';
import type { IsoDate } from '../../model/dates.ts';
import type { Crop, Ledger } from '../../model/ledger.ts';
import { quantile } from '../../stats/describe/quantile.ts';
import { indexErrors } from '../../stats/mixed/index-summary.ts';
import { meanOfDraws } from '../../stats/mixed/mean-of-draws.ts';
import { drawIndex, type ItemDraws } from '../index/draw-index.ts';
import { gatherTrial } from '../index/gather-trial.ts';
import { EDGE, RANK_SEED } from '../index/simulation.ts';
import { orderSheets } from '../orders/order-sheets.ts';
import { pairChance, preferences } from '../orders/preferences.ts';
import type { TastedSelection } from '../scores/tasted-scores.ts';
import { figureDraws, TOLD, tasterGroups } from './figure-draws.ts';
import { type Difference, daysDifference, type SeasonDays, seasonDays } from './season-days.ts';

/** What two cultivars are held against each other by. */
export type ComparedPart =
  | { readonly kind: 'trait'; readonly trait: string }
  | { readonly kind: 'productivity' | 'size' | 'soundness' | 'ripening' | 'preference' | 'index' };

/** Why a part has no interval, or nothing to compare. */
export type NoInterval = 'no figures' | 'not ranked' | 'never joined' | 'one season' | 'no scatter';

/** Two cultivars in one part. */
export interface Comparison {
  readonly part: ComparedPart;
  /** Absent where a cultivar has no figure; of a calendar there are `days` instead. */
  readonly a: number | undefined;
  readonly b: number | undefined;
  /** Seasons in which both were picked, where the part is ripening. */
  readonly days: readonly SeasonDays[];
  /** a - b; in days for ripening, where less is earlier. */
  readonly difference: number | undefined;
  readonly low: number | undefined;
  readonly high: number | undefined;
  readonly why: NoInterval | undefined;
  /** Which one is ahead: higher, or for ripening earlier. Neither where the interval holds 0. */
  readonly ahead: 'a' | 'b' | undefined;
  /** Whether the error of simulation leaves that open: with another seed it might be told otherwise. */
  readonly onEdge: boolean;
}

export type Pair = readonly [a: Cultivar, b: Cultivar];

/** Ask for half a win each, as the preference table does. */
const PRIOR = 0.5;

/** What is compared, and when. */
export interface Compared {
  readonly crop: Crop;
  /** Of the intervals, a fraction, such as 0.95. */
  readonly confidence: number;
  /** As of `recordsUnderWay`. */
  readonly today?: IsoDate | undefined;
}

/**
 * Holds pairs of cultivars against each other in one crop, part by part: each trait, fruit per branch, mean fruit
 * weight in g, share of fruit sound, days by which half the fruit was picked, the share of orders that place the first
 * before the second (and the other way round), ties aside, and the index.
 *
 * Traits, measured parts and the index read the draws of the joint model, in which seasons, sites, trees, plates,
 * tasters and the age of trees count as what they are: figures are those of a grown tree over new trees and swings, in
 * the seasons and sittings seen, all sites alike. Everything is drawn once, however many pairs are asked for.
 */
export function pairComparer(
  ledger: Ledger,
  selection: TastedSelection,
  { crop, confidence, today }: Compared,
): (pair: Pair) => readonly Comparison[] {
  const { ripeness, cultivars: _, ...place } = selection;
  const trial = gatherTrial(ledger, place, crop);
  const drawn = drawIndex(trial, { seed: RANK_SEED });
  const isRipe = ripeness === undefined || (ripeness.length === 1 && ripeness[0] === 'ripe');
  const figures = isRipe
    ? figureDraws(ledger, place, crop, { trial, drawn })
    : figureDraws(ledger, { ...place, ripeness }, crop);
  const groups = tasterGroups(figures.trial);
  const index = drawn?.views[0]?.index ?? [];
  const asked = { ...selection, crops: [crop] };
  return (pair) => {
    const places = pair.map((cultivar) => figures.trial.cultivars.indexOf(cultivar));
    const indexPlaces = pair.map((cultivar) => trial.cultivars.indexOf(cultivar));
    const [i = -1, j = -1] = places;
    const from = (part: ComparedPart, key: string) =>
      drawnPart(part, figures.figures.get(key), places, confidence, 'no figures');
    return [
      ...ledger.trial.traits.map((trait) => {
        const part = { kind: 'trait', trait } as const;
        const one = from(part, trait);
        return one.difference !== undefined && groups[i] !== groups[j]
          ? without(part, { a: undefined, b: undefined }, 'never joined')
          : one;
      }),
      ...TOLD.map((kind) => from({ kind }, kind)),
      ripeningPart(ledger, selection, crop, pair, { confidence, today }),
      preferencePart(ledger, asked, pair, confidence),
      drawnPart({ kind: 'index' }, index, indexPlaces, confidence, 'not ranked'),
    ];
  };
}

/** Two items by draws that belong together. */
function drawnPart(
  part: ComparedPart,
  items: ItemDraws | undefined,
  [i = -1, j = -1]: readonly number[],
  confidence: number,
  why: NoInterval,
): Comparison {
  const [first, second] = [items?.[i], items?.[j]];
  const figures = {
    a: first && meanOfDraws(first),
    b: second && meanOfDraws(second),
  };
  if (first === undefined || second === undefined) return without(part, figures, why);
  const apart = first.map((value, d) => value - (second[d] as number));
  const tail = (1 - confidence) / 2;
  const [low, high] = [tail, 1 - tail].map((p) => quantile([...apart], p));
  const difference = meanOfDraws(apart);
  const errors = indexErrors(apart, confidence);
  const isNear = (end: number | undefined, error: number) =>
    end !== undefined && Math.abs(end) < EDGE * error;
  return {
    ...compared(part, figures, { difference, low, high }, 'no scatter'),
    onEdge: isNear(low, errors.low) || isNear(high, errors.high),
  };
}

function ripeningPart(
  ledger: Ledger,
  selection: TastedSelection,
  crop: Crop,
  [a, b]: Pair,
  { confidence, today }: { readonly confidence: number; readonly today: IsoDate | undefined },
): Comparison {
  const part = { kind: 'ripening' } as const;
  const days = seasonDays(ledger, selection, crop, [a.key, b.key], today);
  const none = { a: undefined, b: undefined };
  const found = daysDifference(days, confidence);
  if (found === undefined) return without(part, none, 'no figures');
  const one = compared(part, none, found, days.length < 2 ? 'one season' : 'no scatter');
  const earlier = one.ahead === undefined ? undefined : one.ahead === 'a' ? 'b' : 'a';
  return { ...one, days, ahead: earlier };
}

function preferencePart(
  ledger: Ledger,
  selection: TastedSelection,
  [a, b]: Pair,
  confidence: number,
): Comparison {
  const part = { kind: 'preference' } as const;
  const none = { a: undefined, b: undefined };
  const [found] = preferences(ledger, orderSheets(ledger, selection, 'orders'), PRIOR);
  const place = ({ key }: Cultivar) => found?.cultivars.findIndex((one) => one.key === key) ?? -1;
  if (found === undefined || place(a) < 0 || place(b) < 0) {
    return without(part, none, 'no figures');
  }
  const chance = pairChance(found, place(a), place(b), confidence);
  if (chance === undefined) return without(part, none, 'never joined');
  // a - b = p - (1 - p)
  const twice = (share: number | undefined) => (share === undefined ? undefined : 2 * share - 1);
  const difference = 2 * chance.chance - 1;
  const limits = { low: twice(chance.low), high: twice(chance.high) };
  const figures = { a: chance.chance, b: 1 - chance.chance };
  return compared(part, figures, { difference, ...limits }, 'no scatter');
}

interface Figures {
  readonly a: number | undefined;
  readonly b: number | undefined;
}

function without(part: ComparedPart, figures: Figures, why: NoInterval): Comparison {
  const nothing = { difference: undefined, low: undefined, high: undefined, ahead: undefined };
  return { part, ...figures, days: [], ...nothing, why, onEdge: false };
}

function compared(
  part: ComparedPart,
  figures: Figures,
  { difference, low, high }: Difference,
  why: NoInterval,
): Comparison {
  const isKnown = low !== undefined && high !== undefined;
  const ahead = isKnown && low > 0 ? 'a' : isKnown && high < 0 ? 'b' : undefined;
  return {
    part,
    ...figures,
    days: [],
    difference,
    low,
    high,
    why: isKnown ? undefined : why,
    ahead,
    onEdge: false,
  };
}
