import type { Cultivar } from '../../model/collection.ts';
import { CROPS, type Crop, type Ledger } from '../../model/ledger.ts';
import { indexErrors, indexSummary } from '../../stats/mixed/index-summary.ts';
import { meanOfDraws } from '../../stats/mixed/mean-of-draws.ts';
import { connectedGroups } from '../../stats/numbers/connected-groups.ts';
import { type PoolDraws, poolDraws } from '../../stats/pool/pool-draws.ts';
import { POOL_PRIOR } from '../../stats/pool/pooled-trials.ts';
import { competitionRanks } from '../../stats/ranks/competition-ranks.ts';
import { numbering } from '../index/numbering.ts';
import { type Likely, likely } from '../index/told-summary.ts';
import { type GardenSummary, gardenSummary } from './garden-summary.ts';
import type { PooledCultivar, PoolGarden, SameCultivars } from './same-cultivars.ts';

/** What is taken as known of gardens before looking: prose that tells it takes it from here. */
export const TAKEN_AS_KNOWN = POOL_PRIOR;

export interface PoolRequest {
  readonly crops?: readonly Crop[] | undefined;
  readonly confidence: number;
  /** How many ranks count as the top. */
  readonly top: number;
  readonly seed: number;
}

/** What the gardens together say of a cultivar, on the home's scale. */
export interface Pooled {
  readonly cultivar: PooledCultivar;
  readonly rank: number;
  readonly index: number;
  readonly low: number;
  readonly high: number;
  /** Of a garden not among them. */
  readonly newLow: number;
  readonly newHigh: number;
  /** Chance to be among the top, in the middle of gardens like these and in a new one. */
  readonly topShare: number;
  readonly firstShare: number;
  readonly newTopShare: number;
  /** At home; absent where it does not grow there. */
  readonly here:
    | { readonly index: number; readonly low: number; readonly high: number }
    | undefined;
  /** Whether home itself has judged it. */
  readonly isJudgedHere: boolean;
  /** What it is worth in each of the gardens that judged it, at the mean level of all. */
  readonly at: readonly { readonly garden: number; readonly index: number }[];
  readonly trees: number;
  /** Seasons of all gardens, each garden's for itself. */
  readonly seasons: number;
  readonly tastings: number;
  /** What the simulation alone leaves open of the index. */
  readonly error: number;
}

export interface CropPool {
  readonly crop: Crop;
  /** Best first; empty where nothing can be pooled. */
  readonly ranked: readonly Pooled[];
  /** The gardens that are pooled. */
  readonly gardens: readonly number[];
  readonly leftOut: readonly GardenLeftOut[];
  /** Cultivars that no pooled garden could judge whole, with what is lacking there. */
  readonly unranked: readonly {
    readonly cultivar: PooledCultivar;
    readonly lacks: readonly string[];
  }[];
  readonly spreads: PoolSpreads | undefined;
}

export interface GardenLeftOut {
  readonly garden: number;
  /** `nothing`: no entry of the crop; `parts`: a weighted part is lacking; `one`: only one cultivar was judged; `apart`: no cultivar in common. */
  readonly why: 'nothing' | 'parts' | 'one' | 'apart';
  /** Weighted parts that every cultivar there lacks. */
  readonly lacks: readonly string[];
}

/** How far cultivars differ, and how far what a garden is to one cultivar and not to others; points. */
export interface PoolSpreads {
  readonly item: Likely;
  readonly interaction: Likely;
  /** Of the variance between cultivars of one garden what is that garden's own: mean of the draws. */
  readonly gardenShare: number;
  /** By pooled garden: how widely its marks are spread against the others, a factor. */
  readonly widths: readonly number[];
}

/** Size of spread between cultivars to be reckoned with, of the scale. */
const SPREAD = 1 / 9;
const WARM_UP = 300;

/**
 * Several gardens judged as one trial, crops apart: the first of them is home, by whose weights, bands and scale all are
 * judged. Gardens are taken as a random sample of gardens like them (MODEL.md beside this file).
 *
 * @param same which cultivars are one, of the same gardens
 * @param isHomeIn whether home itself takes part, and is not only where the others are judged for
 */
export function poolCrops(
  gardens: readonly PoolGarden[],
  same: SameCultivars,
  request: PoolRequest,
  isHomeIn = true,
): readonly CropPool[] {
  const crops = request.crops?.length ? request.crops : CROPS;
  return CROPS.filter((crop) => crops.includes(crop)).flatMap((crop) => {
    const pool = poolCrop(gardens, same, request, crop, isHomeIn);
    return pool.leftOut.every(({ why }) => why === 'nothing') && pool.ranked.length === 0
      ? []
      : [pool];
  });
}

function poolCrop(
  gardens: readonly PoolGarden[],
  same: SameCultivars,
  request: PoolRequest,
  crop: Crop,
  isHomeIn: boolean,
): CropPool {
  const [home] = gardens;
  if (home === undefined) throw new RangeError('a pool needs a garden');
  const placeOf = new Map(
    same.cultivars.flatMap(({ members }, at) =>
      members.map(({ cultivar }) => [cultivar, at] as const),
    ),
  );
  const place = (cultivar: Cultivar) => placeOf.get(cultivar) as number;
  const told = gardens.flatMap((garden, at): Told[] => {
    if (at === 0 && !isHomeIn) return [];
    const summary = gardenSummary(home.ledger, garden, crop, request.seed);
    return [{ garden: at, summary, places: summary.judged.map(({ cultivar }) => place(cultivar)) }];
  });
  const leftOut = told.flatMap(({ garden, summary }) => whyAlone(garden, summary));
  const able = told.filter(({ summary }) => summary.judged.length > 1);
  const pooled = joinedWithHome(able);
  for (const { garden } of able.filter((one) => !pooled.includes(one))) {
    leftOut.push({ garden, why: 'apart', lacks: [] });
  }
  const unranked = (ranked: ReadonlySet<number>) =>
    same.cultivars.flatMap((cultivar, at) => {
      if (ranked.has(at)) return [];
      const lacking = told.flatMap(({ summary }) =>
        summary.incomplete.filter((one) => place(one.cultivar) === at),
      );
      const [first, ...others] = lacking;
      if (first === undefined) return [];
      const lacks = first.lacks.filter((part) => others.every((one) => one.lacks.includes(part)));
      return [{ cultivar, lacks: lacks.length > 0 ? lacks : first.lacks }];
    });
  if (pooled.length < 2) {
    return {
      crop,
      ranked: [],
      gardens: [],
      leftOut,
      unranked: unranked(new Set()),
      spreads: undefined,
    };
  }
  const items = [...new Set(pooled.flatMap(({ places }) => places))].toSorted((a, b) => a - b);
  const itemOf = numbering<number>(items);
  const { low, high } = home.ledger.trial.scale;
  const homeAt = pooled.findIndex(({ garden }) => garden === 0);
  const drawn = poolDraws(
    {
      items: items.length,
      scale: (high - low) * SPREAD,
      environments: pooled.map(({ summary, places }) => ({
        items: places.map(itemOf),
        mean: summary.mean,
        covariance: summary.covariance,
      })),
    },
    {
      seed: request.seed,
      warmUp: WARM_UP,
      rounds: roundsFor(items.length),
      home: homeAt < 0 ? undefined : homeAt,
    },
  );
  return {
    crop,
    ranked: rankedOf(gardens, same, request, {
      pooled,
      items,
      itemOf,
      drawn,
      scale: home.ledger.trial.scale,
    }),
    gardens: pooled.map(({ garden }) => garden),
    leftOut: leftOut.toSorted((a, b) => a.garden - b.garden),
    unranked: unranked(new Set(items)),
    spreads: spreadsOf(drawn),
  };
}

interface Told {
  readonly garden: number;
  readonly summary: GardenSummary;
  /** By judged cultivar, its place among all. */
  readonly places: readonly number[];
}

/** Part of the method. Many cultivars need fewer rounds: they settle the spreads. */
function roundsFor(items: number): number {
  return items <= 60 ? 4000 : items <= 150 ? 2000 : 1000;
}

function whyAlone(garden: number, { judged, incomplete }: GardenSummary): GardenLeftOut[] {
  if (judged.length > 1) return [];
  const [first, ...others] = incomplete;
  if (first === undefined)
    return [{ garden, why: judged.length === 1 ? 'one' : 'nothing', lacks: [] }];
  if (judged.length === 1) return [{ garden, why: 'one', lacks: [] }];
  const lacks = first.lacks.filter((part) => others.every((one) => one.lacks.includes(part)));
  return [{ garden, why: 'parts', lacks }];
}

/** Gardens that cultivars join, directly or through others, to home; the largest group where home is none of them. */
function joinedWithHome(able: readonly Told[]): readonly Told[] {
  const byPlace = new Map<number, number[]>();
  able.forEach(({ places }, at) => {
    for (const one of places) byPlace.set(one, [...(byPlace.get(one) ?? []), at]);
  });
  const groups = connectedGroups(able.length, byPlace.values()).map((group) =>
    group.map((at) => able[at] as Told),
  );
  const withHome = groups.find((group) => group.some(({ garden }) => garden === 0));
  const largest = groups.toSorted((a, b) => b.length - a.length)[0];
  return withHome ?? largest ?? [];
}

interface Judged {
  readonly pooled: readonly Told[];
  readonly items: readonly number[];
  readonly itemOf: (place: number) => number;
  readonly drawn: PoolDraws;
  /** Home's. */
  readonly scale: Ledger['trial']['scale'];
}

function rankedOf(
  gardens: readonly PoolGarden[],
  same: SameCultivars,
  { confidence, top }: PoolRequest,
  { pooled, items, itemOf, drawn, scale }: Judged,
): readonly Pooled[] {
  const levels = { level: confidence, top, scale };
  const middle = indexSummary(drawn.middle, levels);
  const elsewhere = indexSummary(drawn.elsewhere, levels);
  const home = drawn.home && indexSummary(drawn.home, levels);
  const growing = new Set(
    [...(gardens[0]?.ledger.trees.values() ?? [])].map((tree) => tree.cultivar),
  );
  const rows = items.flatMap((place, item) => {
    const [own, fresh, here] = [middle[item], elsewhere[item], home?.[item]];
    const cultivar = same.cultivars[place];
    if (own === undefined || fresh === undefined || cultivar === undefined) return [];
    const seen = pooled.flatMap(({ garden, summary, places }, e) => {
      const at = places.indexOf(place);
      const evidence = summary.judged[at];
      const index = drawn.at[e]?.[at];
      return evidence === undefined || index === undefined ? [] : [{ garden, index, evidence }];
    });
    const growsHere = cultivar.members.some((one) => one.garden === 0 && growing.has(one.cultivar));
    const total = (of: 'trees' | 'seasons' | 'tastings') =>
      seen.reduce((sum, { evidence }) => sum + evidence[of], 0);
    return [
      {
        cultivar,
        item: itemOf(place),
        index: own.estimate,
        low: own.low,
        high: own.high,
        newLow: fresh.low,
        newHigh: fresh.high,
        topShare: own.topShare,
        firstShare: own.firstShare,
        newTopShare: fresh.topShare,
        here:
          here && growsHere ? { index: here.estimate, low: here.low, high: here.high } : undefined,
        isJudgedHere: seen.some(({ garden }) => garden === 0),
        at: seen.map(({ garden, index }) => ({ garden, index })),
        trees: total('trees'),
        seasons: total('seasons'),
        tastings: total('tastings'),
        error: indexErrors(drawn.middle[item] as Float64Array, confidence).estimate,
      },
    ];
  });
  const ranks = competitionRanks(rows.map(({ index }) => index));
  return rows
    .map(({ item: _, ...row }, at) => ({ ...row, rank: ranks[at] ?? 1 }))
    .toSorted((a, b) => a.rank - b.rank);
}

function spreadsOf({ item, interaction, widths }: PoolDraws): PoolSpreads {
  return {
    item: likely(item),
    interaction: likely(interaction),
    gardenShare: meanOfDraws(
      item.map((own, d) => {
        const other = (interaction[d] as number) ** 2;
        return other / (own * own + other);
      }),
    ),
    widths: [...widths].map((log) => Math.exp(log)),
  };
}
