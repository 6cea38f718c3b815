import type { Cultivar } from '../../model/collection.ts';
import type { Crop, Ledger } from '../../model/ledger.ts';
import { JOINT_PRIOR } from '../../stats/joint/joint-prior.ts';
import { indexDraws } from '../../stats/mixed/index-draws.ts';
import type { SpreadVariances } from '../../stats/mixed/item-doubt.ts';
import { seededRandom } from '../../stats/random/seeded-random.ts';
import { type DrawnPart, drawIndex } from '../index/draw-index.ts';
import { gatherTrial } from '../index/gather-trial.ts';
import type { JudgedTrial } from '../index/judged-trial.ts';
import { RANK_SEED } from '../index/simulation.ts';
import { withTasteWeighed } from '../index/weighed-traits.ts';
import { spreadVariances } from '../verdict/remedies.ts';

/** What is believed of every cultivar of a crop, whatever is known of it; draw d of everything belongs together. */
export interface IndexBelief {
  readonly cultivars: readonly Cultivar[];
  /** By cultivar, on the ledger's scale. */
  readonly index: readonly Float64Array[];
  /** By cultivar: the part of the index that is tasted. */
  readonly taste: readonly Float64Array[];
  /** Of the tasted part. */
  readonly spreads: SpreadVariances;
  /** `assumed` where nothing was tasted yet that could tell the spreads. */
  readonly basis: 'scores' | 'assumed';
}

/**
 * The draws behind `rank`, with what is missing drawn from the spread between cultivars: one that was never tasted (or
 * measured) may stand anywhere among the others. Only the choice of what to taste rests on that; such a cultivar has
 * no rank. Where the ledger weighs no trait, all traits alike are the index.
 *
 * @param also cultivars that count even if nothing was entered of them
 */
export function indexBelief(ledger: Ledger, crop: Crop, also: ReadonlySet<Cultivar>): IndexBelief {
  const trial = gatherTrial(withTasteWeighed(ledger), {}, crop);
  const seen = drawIndex(trial, { seed: RANK_SEED })?.views[0]?.parts ?? [];
  const drawn: readonly Believed[] = seen.some(({ part }) => part === 'taste')
    ? seen
    : [{ part: 'taste', weight: tasteWeight(trial), items: [], spreads: undefined }, ...seen];
  const count = drawn.flatMap(({ items }) => items.filter((own) => own !== undefined))[0]?.length;
  const cultivars = [...ledger.cultivars.values()].filter(
    (cultivar) => also.has(cultivar) || trial.cultivars.includes(cultivar),
  );
  const places = cultivars.map((cultivar) => trial.cultivars.indexOf(cultivar));
  const { low, high } = trial.scale;
  const filled = drawn
    .filter(({ part, items }) => part === 'taste' || items.some((draws) => draws !== undefined))
    .map((part, at) => ({
      ...part,
      items: fillIn(part, places, {
        low,
        high,
        count: count ?? DRAWS_OF_NOTHING,
        seed: RANK_SEED + (at + 1) * SEEDS_APART,
      }),
    }));
  const tasted = filled.find(({ part }) => part === 'taste');
  if (tasted === undefined) throw new RangeError('an index to taste for needs a trait');
  const { spreads } = tasted;
  return {
    cultivars,
    index: indexDraws(filled).flatMap((draws) => draws ?? []),
    taste: tasted.items,
    spreads: spreads ? spreadVariances('taste', spreads) : assumedSpreads(high - low),
    basis: spreads ? 'scores' : 'assumed',
  };
}

/** What is drawn of a part of the index. */
type Believed = Pick<DrawnPart, 'part' | 'weight' | 'items'> & {
  readonly spreads: DrawnPart['spreads'] | undefined;
};

function tasteWeight({ traits }: JudgedTrial): number {
  return traits.reduce((sum, { weight }) => sum + weight, 0);
}

/** Where nothing at all was seen, so many draws of what is assumed. */
const DRAWS_OF_NOTHING = 4000;

/** More than there are cultivars, so that no two streams of random numbers are the same. */
const SEEDS_APART = 10_000;

interface Filling {
  readonly low: number;
  readonly high: number;
  /** Draws of every item. */
  readonly count: number;
  readonly seed: number;
}

/** The draws of some items of a part, made where there are none. */
function fillIn(
  { part, items, spreads }: Believed,
  places: readonly number[],
  { low, high, count, seed }: Filling,
): Float64Array[] {
  const known = items.filter((draws) => draws !== undefined);
  const centre = new Float64Array(count).fill((low + high) / 2);
  const spread = new Float64Array(count).fill(Math.sqrt(assumedSpreads(high - low).item));
  for (let d = 0; d < count && known.length > 0; d++) {
    centre[d] = known.reduce((sum, draws) => sum + (draws[d] as number), 0) / known.length;
    // The chain keeps fewer draws of the spreads than of the items.
    if (part === 'taste' && spreads !== undefined) {
      spread[d] = spreads.item[d % spreads.item.length] as number;
    } else if (known.length > 1) spread[d] = spreadAt(known, d, centre[d] as number);
  }
  return places.map((place, at) => {
    const own = items[place];
    if (own !== undefined) return own;
    const luck = new Float64Array(count);
    seededRandom(seed + at).normals(luck, count);
    const made = luck.map((z, d) => (centre[d] as number) + (spread[d] as number) * z);
    return part === 'taste' ? made : made.map((value) => Math.min(high, Math.max(low, value)));
  });
}

function spreadAt(known: readonly Float64Array[], d: number, centre: number): number {
  const squares = known.reduce((sum, draws) => sum + ((draws[d] as number) - centre) ** 2, 0);
  return Math.sqrt(squares / (known.length - 1));
}

/** Where nothing was tasted; the size is our own guess, the shares are those that the model begins with. */
function assumedSpreads(range: number): SpreadVariances {
  const shares = JOINT_PRIOR.shares.centre;
  const item = (range / 6) ** 2;
  const score = (range / 9) ** 2;
  return {
    item,
    season: (shares.season / shares.item) * item,
    tree: (shares.tree / shares.item) * item,
    plate: (shares.plate / shares.item) * item,
    residual: score,
    block: score,
  };
}
