import type { Selection } from '../measure/selection.ts';
import type { Cultivar } from '../model/collection.ts';
import { CROPS, type Crop, type Ledger, type MeasuredPart } from '../model/ledger.ts';
import { compactLetters } from '../stats/linear/compact-letters.ts';
import { indexDraws } from '../stats/mixed/index-draws.ts';
import {
  type IndexErrors,
  type IndexSummary,
  indexErrors,
  indexSummary,
} from '../stats/mixed/index-summary.ts';
import type { ItemPlate } from '../stats/mixed/item-doubt.ts';
import { meanOfDraws } from '../stats/mixed/mean-of-draws.ts';
import { simulationError } from '../stats/mixed/simulation-error.ts';
import { connectedGroups } from '../stats/numbers/connected-groups.ts';
import { competitionRanks } from '../stats/ranks/competition-ranks.ts';
import { type DrawnPart, drawParts, drawTaste } from './draw-parts.ts';
import { type Evidence, type GatheredTrial, gatherTrial, weighedParts } from './gather-trial.ts';
import { partsSeen } from './parts-seen.ts';
import { APART, DRAWS, EDGE, MEAN_DRAWS } from './simulation.ts';

export interface RankOptions {
  /** Of the intervals of index and rank, a fraction. */
  readonly confidence: number;
  /** How many ranks count as the top. */
  readonly top: number;
  readonly seed: number;
}

/** A cultivar's crop, whether it can be ranked or not. */
export interface Candidate extends Evidence {
  readonly cultivar: Cultivar;
  readonly crop: Crop;
  /**
   * By weighted part, its estimate on the ledger's scale; absent without evidence, and in a crop of which nothing can
   * be ranked.
   */
  readonly parts: ReadonlyMap<string, number | undefined>;
}

export interface Ranked extends Candidate, Omit<IndexSummary, 'estimate'> {
  readonly index: number;
  /** Within its crop; equal indexes share the better rank. */
  readonly rank: number;
  /** Cultivars that share a letter cannot be told apart. */
  readonly letters: string;
  /**
   * Those of which the error of simulation leaves open whether they can be told apart from it: with another seed the
   * letters might say otherwise.
   */
  readonly onEdgeWith: readonly Cultivar[];
  /** What the simulation alone leaves open. */
  readonly errors: IndexErrors;
  /** Draws of the index, which belong together with those of the other ranked ones. */
  readonly draws: Float64Array;
  /** What the index is made of, in draws. */
  readonly drawnParts: readonly ItemPart[];
}

/** A part of one item's index, with what it rests on. */
export interface ItemPart {
  readonly part: MeasuredPart | 'taste';
  readonly weight: number;
  readonly draws: Float64Array;
  readonly plates: () => readonly ItemPlate[];
  readonly spreads: DrawnPart['spreads'];
}

export interface Unranked extends Candidate {
  /** Weighted parts without evidence. */
  readonly lacks: readonly string[];
}

export interface CropRanking {
  readonly crop: Crop;
  /** Best first. */
  readonly ranked: readonly Ranked[];
  readonly unranked: readonly Unranked[];
  /**
   * Keys of sites in groups between which no cultivar stands in both: within a group site and
   * cultivar can be told apart, between groups they cannot.
   */
  readonly siteGroups: readonly (readonly string[])[];
}

const NO_PARTS: ReturnType<typeof partEstimates> = new Map();
/**
 * Early and main crop ranked apart by the weighted index. No part is made up: a cultivar that lacks
 * one is not ranked.
 *
 * The index, its interval, the ranks and the chances come from draws of a mixed model of each part
 * (`drawParts`), in which harsh tasters, poor evenings, single trees and odd years count as what
 * they are and one lucky plate is drawn towards the middle. Letters: two cultivars differ where one
 * is above the other in `APART` of the draws, put into letters after Piepho (2004, Journal of
 * Computational and Graphical Statistics 13:456-466).
 */
export function rankCrops(
  ledger: Ledger,
  selection: Selection,
  options: RankOptions,
): readonly CropRanking[] {
  const crops = selection.crops?.length ? selection.crops : CROPS;
  return CROPS.filter((crop) => crops.includes(crop)).flatMap((crop) => {
    const trial = gatherTrial(ledger, selection, crop);
    return trial.items === 0 ? [] : [rankCrop(ledger, trial, options)];
  });
}

function rankCrop(ledger: Ledger, trial: GatheredTrial, options: RankOptions): CropRanking {
  const seen = partsSeen(trial);
  const weighed = weighedParts(ledger).map(([part]) => part);
  const lacks = seen.map((own) => weighed.filter((part) => !own.has(part)));
  // Without a cultivar that has every part nothing can be ranked, and there is nothing to model.
  const canRank = weighed.length > 0 && lacks.some((own) => own.length === 0);
  const drawn = canRank ? drawParts(trial, { draws: DRAWS, seed: options.seed }) : [];
  const parts = canRank ? partEstimates(ledger, trial, drawn, options.seed) : NO_PARTS;
  const candidates = trial.cultivars.map((cultivar, item): Candidate & { item: number } => ({
    item,
    cultivar,
    crop: trial.crop,
    parts: new Map([...parts].map(([part, byItem]) => [part, byItem[item]])),
    ...(trial.evidence[item] ?? { trees: 0, seasons: 0, tastings: 0, sites: [] }),
  }));
  const indexes = drawn.length > 0 ? indexDraws(drawn) : [];
  const summary = indexSummary(indexes, { level: options.confidence, top: options.top });
  const told = candidates.flatMap(({ item, ...one }) => {
    const [own, figures] = [indexes[item], summary[item]];
    if (own === undefined || figures === undefined) return [];
    return [{ ...one, own, figures, drawnParts: itemParts(drawn, item) }];
  });
  const ranks = competitionRanks(told.map(({ figures }) => figures.estimate));
  const sorted = told
    .map((one, at) => ({ ...one, rank: ranks[at] ?? 1 }))
    .toSorted((a, b) => a.rank - b.rank);
  const spans = sorted.map(({ own }) => spanOf(own));
  const nearest = sorted.map((): Cultivar[] => []);
  const letters = compactLetters(
    (a, b) => {
      const apart = apartness(spans[a] as Span, spans[b] as Span);
      if (apart.onEdge) {
        noteOnce(nearest[a], sorted[b]?.cultivar);
        noteOnce(nearest[b], sorted[a]?.cultivar);
      }
      return apart.isApart;
    },
    sorted.map((_, at) => at),
  );
  const ranked = new Set(told.map(({ cultivar }) => cultivar));
  return {
    crop: trial.crop,
    ranked: sorted.map(({ own, figures: { estimate, ...figures }, ...one }, at) => ({
      ...one,
      ...figures,
      index: estimate,
      letters: letters[at] ?? '',
      onEdgeWith: nearest[at] ?? [],
      errors: indexErrors(own, options.confidence),
      draws: own,
    })),
    unranked: candidates
      .filter(({ cultivar }) => !ranked.has(cultivar))
      .map(({ item, ...one }) => ({ ...one, lacks: lacks[item] ?? [] })),
    siteGroups: siteGroups(trial),
  };
}

function itemParts(drawn: readonly DrawnPart[], item: number): readonly ItemPart[] {
  return drawn.flatMap(({ part, weight, items, plates, spreads }) => {
    const draws = items[item];
    return draws === undefined
      ? []
      : [{ part, weight, draws, plates: () => plates(item), spreads }];
  });
}

/** By weighted part, the mean of its draws on the ledger's scale by item. */
function partEstimates(
  ledger: Ledger,
  trial: GatheredTrial,
  drawn: readonly DrawnPart[],
  seed: number,
): ReadonlyMap<string, readonly (number | undefined)[]> {
  const [onlyTrait, another] = trial.traits;
  return new Map(
    weighedParts(ledger).map(([part]) => {
      const whole = part === onlyTrait?.key && another === undefined ? 'taste' : part;
      const trait = trial.traits.find(({ key }) => key === part);
      const items =
        drawn.find((one) => one.part === whole)?.items ??
        (trait && drawTaste(trial, [trait], { draws: MEAN_DRAWS, seed }).items) ??
        [];
      return [part, trial.cultivars.map((_, item) => items[item] && meanOfDraws(items[item]))];
    }),
  );
}

/** Draws with how far they reach. */
interface Span {
  readonly draws: Float64Array;
  readonly low: number;
  readonly high: number;
}

function spanOf(draws: Float64Array): Span {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (let at = 0; at < draws.length; at++) {
    low = Math.min(low, draws[at] as number);
    high = Math.max(high, draws[at] as number);
  }
  return { draws, low, high };
}

/** Whether two can be told apart, and whether another seed might say otherwise. */
interface Apartness {
  readonly isApart: boolean;
  readonly onEdge: boolean;
}

const APART_FOR_SURE: Apartness = { isApart: true, onEdge: false };
const TOGETHER_FOR_SURE: Apartness = { isApart: false, onEdge: false };
/** A share further from the mark than this is not near it, whatever its error. */
const FAR = 0.02;

function apartness(one: Span, other: Span): Apartness {
  // Most pairs of a long list lie far apart.
  if (one.low > other.high || other.low > one.high) return APART_FOR_SURE;
  const share = shareAbove(one.draws, other.draws);
  if (share === undefined) return TOGETHER_FOR_SURE;
  const isApart = share >= APART;
  const off = Math.abs(share - APART);
  if (off > FAR) return isApart ? APART_FOR_SURE : TOGETHER_FOR_SURE;
  const error = simulationError(one.draws.length, (from, to, half) =>
    batchShare(one.draws, other.draws, from, to, half),
  );
  return { isApart, onEdge: off < EDGE * error };
}

/** In what share of the draws the one that is mostly above is above; undefined where it is far below the mark. */
function shareAbove(a: Float64Array, b: Float64Array): number | undefined {
  const few = (1 - APART + FAR) * a.length + 1;
  let above = 0;
  let below = 0;
  for (let at = 0; at < a.length; at++) {
    const value = a[at] as number;
    const other = b[at] as number;
    if (value > other) above++;
    else if (value < other) below++;
    // Too many of either kind already: most pairs are settled long before the last draw.
    if (above > few && below > few) return undefined;
  }
  // A draw in which they are equal counts for both.
  const share = (a.length + above - below) / (2 * a.length);
  return Math.max(share, 1 - share);
}

function batchShare(
  a: Float64Array,
  b: Float64Array,
  from: number,
  to: number,
  half: number,
): number {
  let net = 0;
  for (let at = from; at < to; at++) {
    net += Math.sign((a[at] as number) - (b[at] as number));
    net += Math.sign((a[half + at] as number) - (b[half + at] as number));
  }
  return net / (4 * (to - from));
}

function noteOnce(list: Cultivar[] | undefined, cultivar: Cultivar | undefined): void {
  if (cultivar !== undefined && list?.includes(cultivar) === false) list.push(cultivar);
}

function siteGroups({ evidence }: GatheredTrial): readonly (readonly string[])[] {
  const keys = [...new Set(evidence.flatMap(({ sites }) => sites))];
  const groups = connectedGroups(
    keys.length,
    evidence.map(({ sites }) => sites.map((site) => keys.indexOf(site))),
  );
  return groups.map((group) => group.map((at) => keys[at] ?? ''));
}
