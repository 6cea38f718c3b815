import type { Selection } from '../../measure/selection.ts';
import type { Cultivar } from '../../model/collection.ts';
import { COVERS, type Cover, CROPS, type Crop, type Ledger } from '../../model/ledger.ts';
import {
  type IndexErrors,
  type IndexSummary,
  indexErrors,
  indexSummary,
} from '../../stats/mixed/index-summary.ts';
import type { ItemPlate } from '../../stats/mixed/item-doubt.ts';
import { connectedGroups } from '../../stats/numbers/connected-groups.ts';
import { competitionRanks } from '../../stats/ranks/competition-ranks.ts';
import { type DrawnPart, type DrawnTrial, type DrawnView, drawIndex } from './draw-index.ts';
import { type Evidence, evidenceOf } from './evidence.ts';
import { type GatheredTrial, gatherTrial, weighedParts } from './gather-trial.ts';
import { partEstimates } from './part-estimates.ts';
import { partsSeen } from './parts-seen.ts';
import type { View } from './standing-recorder.ts';
import { toldApart } from './told-apart.ts';
import { type ToldSummary, toldSummary } from './told-summary.ts';

export interface RankOptions {
  /** Of the intervals of index and rank, a fraction. */
  readonly confidence: number;
  /** How many ranks count as the top. */
  readonly top: number;
  readonly seed: number;
  /** Whether what stands under different covers is ranked apart, each by all the evidence there is. */
  readonly byCover?: boolean | undefined;
  /** Whether the same will be asked for by cover and over all covers: both are then had from one run of the model. */
  readonly bothWays?: boolean | undefined;
}

/** A cultivar's crop, whether it can be ranked or not. */
export interface Candidate extends Evidence {
  readonly cultivar: Cultivar;
  readonly crop: Crop;
  /** What it is ranked under, where covers are ranked apart. */
  readonly cover: Cover | undefined;
  /**
   * By weighted part, its estimate on the ledger's scale; absent without evidence, and in a crop of which nothing can
   * be ranked.
   */
  readonly parts: ReadonlyMap<string, number | undefined>;
  /** What was seen of it under all covers. */
  readonly everywhere: Pick<Evidence, 'seasons' | 'tastings'>;
  /** Weighted parts that were seen under other covers alone, where covers are ranked apart. */
  readonly borrows: readonly string[];
}

export interface Ranked extends Candidate, Omit<IndexSummary, 'estimate'> {
  readonly index: number;
  /** Within its crop; equal indexes share the better rank. */
  readonly rank: number;
  /** The interval of one new tree of it in a new season, and the chance that it is among the top of such trees. */
  readonly newLow: number;
  readonly newHigh: number;
  readonly newTopShare: number;
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
  /** Numbers of trees, as in the plates of its parts, that are no more. */
  readonly removedTrees: ReadonlySet<number>;
}

/** A part of one item's index, with what it rests on. */
export interface ItemPart {
  readonly part: DrawnPart['part'];
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
  /** What the ranking holds for, where covers are ranked apart. */
  readonly cover: Cover | undefined;
  /** Best first. */
  readonly ranked: readonly Ranked[];
  readonly unranked: readonly Unranked[];
  /** Those that have every part but were never seen under this cover: what they would do there is not told. */
  readonly unseen: readonly Cultivar[];
  /**
   * Keys of sites in groups between which no cultivar stands in both: within a group site and
   * cultivar can be told apart, between groups they cannot.
   */
  readonly siteGroups: readonly (readonly string[])[];
  /** What the draws say of spreads and of how parts go together; absent where nothing can be ranked. */
  readonly told: (() => ToldSummary) | undefined;
}

/**
 * Early and main crop ranked apart by the weighted index. No part is made up: a cultivar that lacks
 * one is not ranked.
 *
 * The index, its interval, the ranks and the chances come from draws of one joint model of all parts
 * (`drawIndex`), in which harsh tasters, poor evenings, single trees and odd years count as what
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
    const asked = drawnOf(ledger, selection, crop, options);
    return asked.trial.items === 0 ? [] : rankCrop(ledger, asked, options);
  });
}

/** What is asked of a crop, with its draws once they are wanted. */
interface Asked {
  readonly key: string;
  readonly trial: GatheredTrial;
  drawn?: { readonly trial: DrawnTrial | undefined; readonly scopes: readonly Scope[] } | undefined;
}

/** Of each crop the draws that were asked for last. No more, since those of a long list take much room. */
const lastAsked = new WeakMap<Ledger, Map<Crop, Asked>>();

/** A page may ask for ranks and then for verdicts, which rest on the same draws. */
function drawnOf(ledger: Ledger, selection: Selection, crop: Crop, { seed }: RankOptions): Asked {
  const seasons = selection.seasons?.length
    ? selection.seasons
    : ledger.seasons.map(({ year }) => year);
  // An empty list asks for all, as one that is left out does.
  const narrows = Object.entries({ ...selection, seasons, crops: [] })
    .filter(([, values]) => values !== undefined && values.length > 0)
    .toSorted(([a], [b]) => (a < b ? -1 : 1));
  const key = JSON.stringify([narrows, seed]);
  const last = lastAsked.get(ledger) ?? new Map<Crop, Asked>();
  lastAsked.set(ledger, last);
  const known = last.get(crop);
  if (known?.key === key) return known;
  const asked = { key, trial: gatherTrial(ledger, selection, crop) };
  last.set(crop, asked);
  return asked;
}

function rankCrop(ledger: Ledger, asked: Asked, options: RankOptions): readonly CropRanking[] {
  const { trial } = asked;
  const seen = partsSeen(trial);
  const weighed = weighedParts(ledger).map(([part]) => part);
  const lacks = seen.map((own) => weighed.filter((part) => !own.has(part)));
  // Without a cultivar that has every part nothing can be ranked, and there is nothing to model.
  const canRank = weighed.length > 0 && lacks.some((own) => own.length === 0);
  const scopes = scopesOf(ledger, trial, options.byCover);
  const drawn = canRank ? drawnScopes(ledger, asked, scopes, options) : undefined;
  return scopes.map((scope, at) => {
    const place = drawn?.scopes.findIndex(({ cover }) => cover === scope.cover) ?? -1;
    const view = drawn?.trial?.views[place];
    return rankScope(ledger, trial, options, { ...scope, lacks, drawn: drawn?.trial, view, at });
  });
}

/** The draws of a crop with those of the scopes among them; what is drawn of one does not hang on the others. */
function drawnScopes(
  ledger: Ledger,
  asked: Asked,
  scopes: readonly Scope[],
  { seed, bothWays = false }: RankOptions,
): NonNullable<Asked['drawn']> {
  const { trial, drawn } = asked;
  const isDrawn = ({ cover }: Scope) => drawn?.scopes.some((one) => one.cover === cover);
  if (drawn !== undefined && scopes.every(isDrawn)) return drawn;
  const wanted = bothWays
    ? [...scopesOf(ledger, trial, false), ...scopesOf(ledger, trial, true)]
    : scopes;
  const views = wanted.map(({ sites }) => sites);
  asked.drawn = { trial: drawIndex(trial, { seed, views }), scopes: wanted };
  return asked.drawn;
}

/** What is ranked at a time: a crop, or a crop under one cover. */
interface Scope {
  readonly cover: Cover | undefined;
  readonly sites: View;
}

interface DrawnScope extends Scope {
  /** By item, the weighted parts that it lacks. */
  readonly lacks: readonly (readonly string[])[];
  readonly drawn: DrawnTrial | undefined;
  readonly view: DrawnView | undefined;
  /** Which of the scopes it is. */
  readonly at: number;
}

function scopesOf(
  { trial }: Ledger,
  { siteKeys }: GatheredTrial,
  byCover = false,
): readonly Scope[] {
  const all = [...siteKeys.keys()];
  if (!byCover) return [{ cover: undefined, sites: all }];
  const coverOf = (site: number) => trial.sites.get(siteKeys[site] ?? '')?.cover ?? 'open';
  return COVERS.flatMap((cover) => {
    const sites = all.filter((site) => coverOf(site) === cover);
    return sites.length === 0 ? [] : [{ cover, sites }];
  });
}

function rankScope(
  ledger: Ledger,
  trial: GatheredTrial,
  options: RankOptions,
  { cover, sites, lacks, drawn, view, at: scope }: DrawnScope,
): CropRanking {
  const parts = partEstimates(ledger, trial, view, options.seed);
  const evidence = evidenceOf(trial, sites);
  const whole = cover === undefined ? evidence : evidenceOf(trial);
  const seenHere = partsSeen(trial, cover === undefined ? undefined : sites);
  const isHere = (item: number) => cover === undefined || (seenHere[item]?.size ?? 0) > 0;
  const weighed = weighedParts(ledger).map(([part]) => part);
  const candidates = trial.cultivars.map((cultivar, item): Candidate & { item: number } => ({
    item,
    cultivar,
    crop: trial.crop,
    cover,
    parts: new Map([...parts].map(([part, byItem]) => [part, byItem[item]])),
    borrows: cover === undefined ? [] : weighed.filter((part) => !seenHere[item]?.has(part)),
    everywhere: whole[item] as Evidence,
    ...(evidence[item] as Evidence),
  }));
  const index = view?.index.map((draws, item) => (isHere(item) ? draws : undefined)) ?? [];
  const newIndex = view?.newIndex.map((draws, item) => (isHere(item) ? draws : undefined)) ?? [];
  const levels = { level: options.confidence, top: options.top, scale: ledger.trial.scale };
  const summary = indexSummary(index, levels);
  const newSummary = indexSummary(newIndex, levels);
  const told = candidates.flatMap(({ item, ...one }) => {
    const [own, figures, fresh] = [index[item], summary[item], newSummary[item]];
    if (own === undefined || figures === undefined || fresh === undefined) return [];
    const { low: newLow, high: newHigh, topShare: newTopShare } = fresh;
    const drawnParts = itemParts(view?.parts ?? [], item);
    const { removedTrees } = trial;
    return [{ ...one, own, figures, newLow, newHigh, newTopShare, drawnParts, removedTrees }];
  });
  const ranks = competitionRanks(told.map(({ figures }) => figures.estimate));
  const sorted = told
    .map((one, at) => ({ ...one, rank: ranks[at] ?? 1 }))
    .toSorted((a, b) => a.rank - b.rank);
  const { letters, onEdgeWith } = toldApart(sorted.map(({ own }) => own));
  const canRank = (item: number) => lacks[item]?.length === 0 && view !== undefined;
  return {
    crop: trial.crop,
    cover,
    ranked: sorted.map(({ own, figures: { estimate, ...figures }, ...one }, at) => ({
      ...one,
      ...figures,
      index: estimate,
      letters: letters[at] ?? '',
      onEdgeWith: [...(onEdgeWith[at] ?? [])].flatMap((other) => sorted[other]?.cultivar ?? []),
      errors: indexErrors(own, options.confidence),
      draws: own,
    })),
    // What lacks a part lacks it under every cover: it is told once.
    unranked:
      scope > 0
        ? []
        : candidates
            .filter(({ item }) => !canRank(item))
            .map(({ item, ...one }) => ({
              ...one,
              ...(whole[item] as Evidence),
              cover: undefined,
              borrows: [],
              lacks: lacks[item] ?? [],
            })),
    unseen: candidates.flatMap(({ item, cultivar }) =>
      canRank(item) && !isHere(item) ? [cultivar] : [],
    ),
    siteGroups: siteGroups(trial),
    told:
      drawn &&
      view &&
      (() =>
        toldSummary(
          drawn.told,
          view.parts.map(({ part }) => part),
          2 * drawn.length.rounds * drawn.length.pairs,
        )),
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

/** Keys of sites in groups between which no cultivar stands in both. */
export function siteGroups(trial: GatheredTrial): readonly (readonly string[])[] {
  const groups = connectedGroups(
    trial.sites,
    evidenceOf(trial).map(({ sites }) => sites),
  );
  return groups.map((group) => group.map((at) => trial.siteKeys[at] ?? ''));
}
