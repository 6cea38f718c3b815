import { CONFIDENCE } from '../../measure/confidence.ts';
import { groupBy } from '../../measure/group-by.ts';
import type { Cultivar, Tree } from '../../model/collection.ts';
import { type IsoDate, seasonOf } from '../../model/dates.ts';
import type { Taster } from '../../model/entries.ts';
import { CROPS, type Crop, type Ledger } from '../../model/ledger.ts';
import { type ItemPlate, plateNews } from '../../stats/mixed/item-doubt.ts';
import { meanOfDraws } from '../../stats/mixed/mean-of-draws.ts';
import { seededRandom } from '../../stats/random/seeded-random.ts';
import { servingOrders } from '../../stats/random/serving-orders.ts';
import { numbering } from '../index/numbering.ts';
import { ledgerAsOf } from '../ledger-as-of.ts';
import { tastedScores } from '../scores/tasted-scores.ts';
import { TOP } from '../top-ranks.ts';
import type { Standing } from '../verdict/settle-chance.ts';
import { blindCodes } from './blind-codes.ts';
import {
  type CandidatePlate,
  chooseLineup,
  type LineupChoice,
  type Outlook,
} from './choose-lineup.ts';
import { type IndexBelief, indexBelief } from './index-belief.ts';
import { type RipeAbout, type RipeCultivar, ripeAbout, type TreeLeftOut } from './ripe-about.ts';

/** What is asked of the next tasting. */
export interface LineupRequest {
  readonly on: IsoDate;
  /** Left out, the crop from which a sitting would tell most. */
  readonly crop?: Crop | undefined;
  /** Samples at most, 1 or more. */
  readonly samples: number;
  /** One or more. */
  readonly tasters: readonly Taster[];
  /** Keys of the cultivars to choose from, ripe or not; left out, those that are ripe. */
  readonly candidates?: readonly string[] | undefined;
  /** What the sitting is to clear up: the order of the best, or the verdicts. */
  readonly aim?: 'order' | 'verdict' | undefined;
  /** A whole number from 0: fixes codes and serving orders. */
  readonly seed: number;
}

/** A sample of the next tasting. */
export interface LineupSample extends RipeCultivar {
  /** What tasters know it by. */
  readonly code: string;
  /** Sittings at which the cultivar's crop was tasted ripe so far, and in how many seasons that was. */
  readonly tastings: number;
  readonly seasons: number;
  /** How it seems to taste, on the scale, and how far that may be off. */
  readonly mean: number;
  readonly sd: number;
  /** Chance that its index is among the best `TOP`. */
  readonly topShare: number;
  /** Marks of the verdict that its index may lie above or below; absent where the order is asked for. */
  readonly openMarks: readonly number[] | undefined;
  /** The cultivar against which most is learnt of it; none if it stands alone, or where verdicts are asked for. */
  readonly against: Rival | undefined;
  /** The tree with more fruit left that was passed over, since it was tasted more. */
  readonly insteadOf: Tree | undefined;
}

export interface Rival {
  readonly cultivar: Cultivar;
  /** Whether the sample seems better than its rival. */
  readonly ahead: boolean;
  /** Chance that the order of the two truly is what it seems, 0.5 to 1. */
  readonly right: number;
}

export interface ServingOrder {
  readonly taster: Taster;
  readonly codes: readonly string[];
}

/** A proposal for one sitting. */
export interface Lineup {
  readonly season: number;
  readonly crop: Crop;
  /** In the order in which they were chosen; none where nothing is ripe. */
  readonly samples: readonly LineupSample[];
  readonly orders: readonly ServingOrder[];
  /** Ripe, but not among those that tell most. */
  readonly notChosen: readonly Cultivar[];
  readonly leftOut: readonly TreeLeftOut[];
  /** How many cultivars of the other crop are ripe too. */
  readonly otherCropRipe: number;
  /** Pairs near the top that stand right, or verdicts that are settled; absent where nothing is ripe. */
  readonly outlook: Outlook | undefined;
  /** See `IndexBelief`. */
  readonly basis: IndexBelief['basis'];
}

/**
 * Proposes the next tasting: which cultivars that are ripe about a day tell most about the order of
 * the best or about the verdicts, which tree each is taken from, blind codes, and an order of serving for each taster. The
 * choice knows no chance; codes and orders are random, fixed by the seed.
 */
export function lineup(ledger: Ledger, request: LineupRequest): Lineup {
  const crops = request.crop === undefined ? CROPS : [request.crop];
  const drafts = crops.map((crop) => draftFor(ledger, request, crop));
  const [first, ...others] = drafts;
  if (first === undefined) throw new RangeError('a line-up needs a crop');
  const draft = others.reduce((best, one) => (isBetter(one, best, request) ? one : best), first);
  const chosen = new Set(draft.proposal?.chosen.map(({ cultivar }) => cultivar));
  const isLeft = (cultivar: Cultivar) => !chosen.has(cultivar);
  const other = CROPS.filter((crop) => crop !== draft.crop).map((crop) =>
    ripeAbout(ledger, crop, request.on),
  );
  return {
    season: seasonOf(request.on, ledger.trial.place.latitude),
    crop: draft.crop,
    ...served(ledger, request, draft),
    notChosen: draft.about.ripe.map(({ cultivar }) => cultivar).filter(isLeft),
    leftOut: draft.about.leftOut.filter(({ cultivar }) => isLeft(cultivar)),
    otherCropRipe: other.reduce((count, { ripe }) => count + ripe.length, 0),
    outlook: draft.proposal?.choice.outlook,
    basis: draft.proposal?.belief.basis ?? 'assumed',
  };
}

interface Draft {
  readonly crop: Crop;
  readonly about: RipeAbout;
  /** Absent where nothing is ripe. */
  readonly proposal: Proposal | undefined;
}

interface Proposal {
  readonly belief: IndexBelief;
  /** By cultivar, the chance that it is among the top. */
  readonly weights: readonly number[];
  readonly choice: LineupChoice;
  /** What the choice points at, in its order. */
  readonly chosen: readonly RipeCultivar[];
  readonly tasted: ReadonlyMap<Cultivar, readonly TastedPlate[]>;
}

function draftFor(whole: Ledger, request: LineupRequest, crop: Crop): Draft {
  const ledger = ledgerAsOf(whole, request.on);
  const about = ripeAbout(whole, crop, request.on, request.candidates);
  const offered = withEnough(about.trees, request.tasters.length);
  if (offered.length === 0) return { crop, about, proposal: undefined };
  const belief = indexBelief(ledger, crop, new Set(about.ripe.map(({ cultivar }) => cultivar)));
  const tasted = tastedPlates(ledger, crop);
  const season = seasonOf(request.on, ledger.trial.place.latitude);
  const { spreads } = belief;
  const weights = topShares(belief.index);
  const choice = chooseLineup({
    mean: belief.index.map(meanOfDraws),
    index: covarianceTable(belief.index, belief.index),
    indexTaste: covarianceTable(belief.index, belief.taste),
    taste: covarianceTable(belief.taste, belief.taste),
    candidates: offered.map(({ cultivar, tree }): CandidatePlate => {
      const plates = tasted.get(cultivar) ?? [];
      return {
        cultivar: belief.cultivars.indexOf(cultivar),
        ...plateNews(plates, { season, tree: treeNumber(plates, tree) }, spreads),
        tastings: sittingsOf(plates),
      };
    }),
    n: request.samples,
    plateVariance: spreads.plate + spreads.residual / request.tasters.length,
    sittingVariance: spreads.block,
    aim:
      request.aim === 'verdict'
        ? {
            for: 'verdict',
            standings: belief.index.map(standingOf),
            marks: marksOf(ledger),
          }
        : { for: 'order', weights },
  });
  const chosen = choice.chosen.flatMap((at) => offered[at] ?? []);
  return { crop, about, proposal: { belief, weights, choice, chosen, tasted } };
}

function marksOf({ trial: { verdict } }: Ledger): readonly number[] {
  return [verdict.discardBelow, verdict.increaseAbove];
}

/** Of each cultivar, the trees with a fruit for every taster by their counts, if there is one. */
function withEnough(trees: readonly RipeCultivar[], tasters: number): readonly RipeCultivar[] {
  const hasEnough = ({ fruitLeft = tasters }: RipeCultivar) => fruitLeft >= tasters;
  return [...groupBy(trees, ({ cultivar }) => cultivar).values()].flatMap((own) =>
    own.some(hasEnough) ? own.filter(hasEnough) : own.slice(0, 1),
  );
}

/** A plate that was tasted ripe. */
interface TastedPlate extends ItemPlate {
  readonly sitting: number;
  readonly from: Tree;
}

function tastedPlates(ledger: Ledger, crop: Crop): ReadonlyMap<Cultivar, readonly TastedPlate[]> {
  const trees = numbering<Tree>();
  const sittings = numbering<object>();
  const scores = tastedScores(ledger, { crops: [crop] });
  const plates = [...groupBy(scores, ({ score }) => score.sample)].flatMap(([sample, own]) => {
    const [first] = own;
    if (first === undefined) return [];
    const { tree } = sample;
    const observations = new Set(own.map(({ score }) => score.taster)).size;
    const sitting = sittings(first.tasting);
    return [{ season: first.tasting.season, tree: trees(tree), observations, sitting, from: tree }];
  });
  return groupBy(plates, ({ from }) => from.cultivar);
}

/** The number that a tree has among the plates; another one if it is not among them. */
function treeNumber(plates: readonly TastedPlate[], tree: Tree): number {
  return plates.find(({ from }) => from === tree)?.tree ?? -1;
}

function sittingsOf(plates: readonly TastedPlate[]): number {
  return new Set(plates.map(({ sitting }) => sitting)).size;
}

/** Shares of the draws in which each is among the best. */
function topShares(index: readonly Float64Array[]): readonly number[] {
  const counts = index.map(() => 0);
  const draws = index[0]?.length ?? 0;
  for (let d = 0; d < draws; d++) {
    const values = index.map((own) => own[d] as number);
    const mark = values.toSorted((a, b) => b - a)[Math.min(TOP, values.length) - 1] as number;
    values.forEach((value, at) => {
      if (value >= mark) counts[at] = (counts[at] as number) + 1;
    });
  }
  return counts.map((count) => count / Math.max(1, draws));
}

function covarianceTable(
  rows: readonly Float64Array[],
  columns: readonly Float64Array[],
): readonly Float64Array[] {
  const centred = (draws: Float64Array) => {
    const mean = meanOfDraws(draws);
    return draws.map((value) => value - mean);
  };
  const others = columns.map(centred);
  return rows.map((row) => {
    const own = centred(row);
    return Float64Array.from(others, (other) => {
      let product = 0;
      for (let d = 0; d < own.length; d++) product += (own[d] as number) * (other[d] as number);
      return product / Math.max(1, own.length - 1);
    });
  });
}

/** Verdicts are told by the intervals that reports print unless told otherwise. */
function standingOf(draws: Float64Array): Standing {
  const mean = meanOfDraws(draws);
  const variance = (covarianceTable([draws], [draws])[0] as Float64Array)[0] as number;
  const sorted = draws.toSorted();
  const [low, high] = [(1 - CONFIDENCE) / 2, (1 + CONFIDENCE) / 2].map(
    (share) => sorted[Math.round(share * (sorted.length - 1))] as number,
  ) as [number, number];
  return { mean, variance, low, high };
}

function openMarks(draws: Float64Array | undefined, marks: readonly number[]): readonly number[] {
  if (draws === undefined) return [];
  const { low, high } = standingOf(draws);
  return marks.filter((mark) => low < mark && mark < high);
}

/**
 * Whether one crop's draft is the better proposal: the one that tells more. Where cultivars were
 * named it is the one of which more fruit is known to be there, else the main crop.
 */
function isBetter(one: Draft, other: Draft, { candidates }: LineupRequest): boolean {
  if (candidates === undefined) {
    if (gainOf(one) !== gainOf(other)) return gainOf(one) > gainOf(other);
    return (one.proposal?.chosen.length ?? 0) > (other.proposal?.chosen.length ?? 0);
  }
  const known = ({ about }: Draft) =>
    about.ripe.filter(({ sign, fruitLeft = 0 }) => sign.kind !== 'told' || fruitLeft > 0).length;
  return known(one) === known(other) ? one.crop === 'main' : known(one) > known(other);
}

function gainOf({ proposal }: Draft): number {
  const outlook = proposal?.choice.outlook;
  return outlook === undefined ? 0 : outlook.after - outlook.now;
}

function served(
  ledger: Ledger,
  { on, tasters, seed, aim }: LineupRequest,
  { about, proposal }: Draft,
): Pick<Lineup, 'samples' | 'orders'> {
  if (proposal === undefined) return { samples: [], orders: [] };
  const { belief, weights, choice, chosen, tasted } = proposal;
  const codes = blindCodes(chosen.length, takenLabels(ledger, on), seededRandom(seed));
  const samples = chosen.map((ripe, at): LineupSample => {
    const own = belief.cultivars.indexOf(ripe.cultivar);
    const plates = tasted.get(ripe.cultivar) ?? [];
    const taste = belief.taste[own] ?? new Float64Array(0);
    const fullest = about.ripe.find(({ cultivar }) => cultivar === ripe.cultivar)?.tree;
    return {
      ...ripe,
      code: codes[at] ?? '',
      tastings: sittingsOf(plates),
      seasons: new Set(plates.map(({ season }) => season)).size,
      mean: meanOfDraws(taste),
      sd: Math.sqrt(covarianceTable([taste], [taste])[0]?.[0] ?? 0),
      topShare: weights[own] ?? 0,
      openMarks: aim === 'verdict' ? openMarks(belief.index[own], marksOf(ledger)) : undefined,
      against: rivalOf(choice.pairs[at], own, belief),
      insteadOf: fullest === ripe.tree ? undefined : fullest,
    };
  });
  const orders = servingOrders(chosen.length, tasters.length, seed).map((order) =>
    order.map((sample) => codes[sample] ?? ''),
  );
  return {
    samples,
    orders: tasters.map((taster, at) => ({ taster, codes: orders[at] ?? [] })),
  };
}

/** Labels of all sittings of the season, and ids of trees, which are labels where there is no code. */
function takenLabels(ledger: Ledger, on: IsoDate): ReadonlySet<string> {
  const year = seasonOf(on, ledger.trial.place.latitude);
  const season = ledger.seasons.find((one) => one.year === year);
  const labels = (season?.tastings ?? []).flatMap(({ samples }) => samples.map((one) => one.label));
  return new Set([...labels, ...ledger.trees.keys()]);
}

function rivalOf(
  pair: LineupChoice['pairs'][0],
  own: number,
  { cultivars }: IndexBelief,
): Rival | undefined {
  if (pair === undefined) return undefined;
  const ahead = pair.better === own;
  const cultivar = cultivars[ahead ? pair.worse : pair.better];
  return cultivar === undefined ? undefined : { cultivar, ahead, right: 1 - pair.wrong };
}
