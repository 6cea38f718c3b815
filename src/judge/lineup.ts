import type { Cultivar } from '../model/collection.ts';
import { type IsoDate, seasonOf } from '../model/dates.ts';
import type { Taster } from '../model/entries.ts';
import { CROPS, type Crop, type Ledger } from '../model/ledger.ts';
import { seededRandom } from '../stats/random/seeded-random.ts';
import { servingOrders } from '../stats/random/serving-orders.ts';
import { blindCodes } from './blind-codes.ts';
import { chooseLineup, type LineupChoice } from './choose-lineup.ts';
import { type LeftOut, type RipeAbout, type RipeCultivar, ripeAbout } from './ripe-about.ts';
import { type Standings, sittingVariance, tastedStandings } from './tasted-standings.ts';

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
  /** A whole number from 0: fixes codes and serving orders. */
  readonly seed: number;
}

/** A sample of the next tasting. */
export interface LineupSample extends RipeCultivar {
  /** What tasters know it by. */
  readonly code: string;
  /** Sittings at which the cultivar's crop was tasted ripe so far. */
  readonly tastings: number;
  /** Where it seems to stand on the scale, and how far that may be off. */
  readonly mean: number;
  readonly sd: number;
  /** The other sample against which tasting it tells most; none if it stands alone. */
  readonly against: Rival | undefined;
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
  readonly leftOut: readonly LeftOut[];
  /** How many cultivars of the other crop are ripe too. */
  readonly otherCropRipe: number;
  /** See `Standings`. */
  readonly basis: Standings['basis'];
}

/**
 * Proposes the next tasting: which cultivars that are ripe about a day tell most about the order of
 * the best, which tree each is taken from, blind codes, and an order of serving for each taster. The
 * choice knows no chance; codes and orders are random, fixed by the seed.
 */
export function lineup(ledger: Ledger, request: LineupRequest): Lineup {
  const crops = request.crop === undefined ? CROPS : [request.crop];
  const drafts = crops.map((crop) => draftFor(ledger, request, crop));
  const [first, ...others] = drafts;
  if (first === undefined) throw new RangeError('a line-up needs a crop');
  const draft = others.reduce((best, one) => (isBetter(one, best, request) ? one : best), first);
  const other = CROPS.filter((crop) => crop !== draft.crop).map((crop) =>
    ripeAbout(ledger, crop, request.on),
  );
  return {
    season: seasonOf(request.on, ledger.trial.place.latitude),
    crop: draft.crop,
    ...served(ledger, request, draft),
    notChosen: draft.about.ripe
      .map(({ cultivar }) => cultivar)
      .filter((cultivar) => !draft.chosen.some((one) => one.cultivar === cultivar)),
    leftOut: draft.about.leftOut.filter(
      ({ cultivar }) => !draft.chosen.some((one) => one.cultivar === cultivar),
    ),
    otherCropRipe: other.reduce((count, { ripe }) => count + ripe.length, 0),
    basis: draft.standings.basis,
  };
}

interface Draft {
  readonly crop: Crop;
  readonly about: RipeAbout;
  readonly standings: Standings;
  readonly choice: LineupChoice;
  /** What the choice points at, in its order. */
  readonly chosen: readonly RipeCultivar[];
}

function draftFor(ledger: Ledger, request: LineupRequest, crop: Crop): Draft {
  const about = ripeAbout(ledger, crop, request.on, request.candidates);
  const standings = tastedStandings(ledger, crop, request.on);
  const indexOf = (cultivar: Cultivar) => standings.cultivars.indexOf(cultivar);
  const choice = chooseLineup({
    mean: standings.mean,
    doubt: { kind: 'sd', sd: standings.sd },
    tastings: standings.tastings,
    pool: about.ripe.map(({ cultivar }) => indexOf(cultivar)),
    n: request.samples,
    plateSd: Math.sqrt(sittingVariance(standings, request.tasters.length)),
  });
  return {
    crop,
    about,
    standings,
    choice,
    chosen: choice.chosen.flatMap(
      (index) => about.ripe.find(({ cultivar }) => indexOf(cultivar) === index) ?? [],
    ),
  };
}

/**
 * Whether one crop's draft is the better proposal: the one that tells more. Where cultivars were
 * named it is the one of which more fruit is known to be there, else the main crop.
 */
function isBetter(one: Draft, other: Draft, { candidates }: LineupRequest): boolean {
  if (candidates === undefined) {
    if (one.choice.gain !== other.choice.gain) return one.choice.gain > other.choice.gain;
    return one.chosen.length > other.chosen.length;
  }
  const known = ({ about }: Draft) =>
    about.ripe.filter(({ sign, fruitLeft = 0 }) => sign.kind !== 'told' || fruitLeft > 0).length;
  return known(one) === known(other) ? one.crop === 'main' : known(one) > known(other);
}

function served(
  ledger: Ledger,
  { on, tasters, seed }: LineupRequest,
  { chosen, choice, standings }: Draft,
): Pick<Lineup, 'samples' | 'orders'> {
  if (chosen.length === 0) return { samples: [], orders: [] };
  const codes = blindCodes(chosen.length, takenLabels(ledger, on), seededRandom(seed));
  const samples = chosen.map((ripe, at): LineupSample => {
    const index = choice.chosen[at] ?? 0;
    return {
      ...ripe,
      code: codes[at] ?? '',
      tastings: standings.tastings[index] ?? 0,
      mean: standings.mean[index] ?? 0,
      sd: standings.sd[index] ?? 0,
      against: rivalOf(index, choice, standings),
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
  index: number,
  { pairs }: LineupChoice,
  { cultivars }: Standings,
): Rival | undefined {
  const pair = pairs.find(({ better, worse }) => better === index || worse === index);
  if (pair === undefined) return undefined;
  const ahead = pair.better === index;
  const cultivar = cultivars[ahead ? pair.worse : pair.better];
  return cultivar === undefined ? undefined : { cultivar, ahead, right: 1 - pair.wrong };
}
