import { requireFinite } from '../numbers/require-finite.ts';
import { seededRandom } from '../random/seeded-random.ts';
import { meanOfDraws } from './mean-of-draws.ts';
import { type MixedLayout, type MixedObservations, mixedLayout } from './mixed-layout.ts';
import { MixedSampler } from './mixed-sampler.ts';
import { SHARE_PRIOR, type SharePrior, type Spreads } from './spreads.ts';

/** What `mixedDraws` is told beside the observations. */
export type MixedOptions = {
  /** How many draws; an odd number is rounded up to an even one. */
  readonly draws: number;
  readonly seed: number;
  /** Size of spread to be reckoned with before anything was seen: scale of the weak priors, in the unit of the values. */
  readonly scale: number;
  /** Step to which the values were rounded; 0 or absent if they were not. */
  readonly resolution?: number;
  /** Other prior shares of the variance than `SHARE_PRIOR`; a share of 0 leaves its effects out. */
  readonly prior?: SharePrior;
  /** Whether to keep the block effects too. */
  readonly keepsBlocks?: boolean;
};

/** Joint draws of what each item is worth in the long run, and of the spreads around it. */
export type MixedDraws = {
  /**
   * By item: draws of its mean over new seasons and trees, at the average block and the average level of each
   * factor; absent for an item without observations. Draw d of all items belongs together.
   */
  readonly items: readonly (Float64Array | undefined)[];
  /** By block: draws of its effect less that of the average block; empty unless asked for. */
  readonly blocks: readonly Float64Array[];
  /** Draws of each standard deviation. */
  readonly spreads: Readonly<Record<keyof Spreads | 'block', Float64Array>>;
};

/** Plates times rounds that a trial may cost; its rounds then give several draws each. */
const MOST_WORK = 1_200_000;
const MOST_ROUNDS = 4000;
const WARM_UP = 200;
const WARM_UP_STEPS = 2;
/** From so many plates on the values all but settle the spreads, and few rounds that hardly depend on one another do. */
const LARGE = 1000;
const LARGE_ROUNDS = 100;
const LARGE_WARM_UP = 10;

/**
 * Draws what items are worth in the long run from scores or figures that seasons, trees, plates, blocks (sittings)
 * and factors (tasters, sites) have moved up and down.
 *
 * Model: y = level + block + factors + item + item-by-season + tree + plate + residual, all but the factors normal
 * with a spread of their own. Spreads are drawn along with everything else, from weak priors of their sizes and an
 * informative one of their shares (`spreads.ts`), since a trial of one season or one tree cannot tell the shares
 * apart and intervals that ignore this hold the truth too seldom. Blocks are random, so what the level of a sitting
 * says about the items in it is used (Patterson and Thompson 1971, Biometrika 58:545-554).
 *
 * Deterministic: the seed fixes every draw.
 *
 * @throws RangeError if a value is not finite, arrays differ in length, or the scale is not above 0
 */
export function mixedDraws(seen: MixedObservations, options: MixedOptions): MixedDraws {
  requireMatchingArrays(seen);
  if (!(options.scale > 0)) throw new RangeError(`a scale is above 0, not ${options.scale}`);
  const middle = seen.y.reduce((sum, value) => sum + value, 0) / Math.max(1, seen.y.length);
  const layout = mixedLayout({ ...seen, y: seen.y.map((value) => value - middle) });
  const random = seededRandom(options.seed);
  const sampler = new MixedSampler(
    layout,
    {
      scale: options.scale,
      floor: (options.resolution ?? 0) / Math.sqrt(12),
      prior: options.prior ?? SHARE_PRIOR,
    },
    random,
  );
  const pairs = Math.ceil(options.draws / 2);
  const rounds = warmUp(sampler, layout.plates, pairs);
  const record = emptyRecord(layout, pairs, options.keepsBlocks ?? false);
  const noise = new Float64Array(record.items.filter((draws) => draws !== undefined).length);
  for (let pair = 0, round = 0; round < rounds; round++) {
    sampler.advance(1);
    for (const next = Math.ceil(((round + 1) * pairs) / rounds); pair < next; pair++) {
      random.normals(noise, noise.length);
      keep(record, sampler, pair, middle, noise);
    }
  }
  return record;
}

/** Brings the chain to where it can be drawn from; returns how many rounds to draw. */
function warmUp(sampler: MixedSampler, plates: number, pairs: number): number {
  if (plates >= LARGE) {
    sampler.settle();
    for (let round = 0; round < LARGE_WARM_UP; round++) sampler.advance(1);
    return Math.min(Math.ceil(pairs / 10), LARGE_ROUNDS);
  }
  const affordable = Math.floor(MOST_WORK / Math.max(1, plates));
  for (let round = 0; round < WARM_UP; round++) sampler.advance(WARM_UP_STEPS);
  sampler.freeze();
  return Math.min(pairs, MOST_ROUNDS, affordable);
}

function requireMatchingArrays(seen: MixedObservations): void {
  const { y, item, season, tree, plate, block, factors, variance = y } = seen;
  for (const array of [item, season, tree, plate, block, variance, ...factors]) {
    if (array.length !== y.length) throw new RangeError('every observation needs all its groups');
  }
  requireFinite('values', y);
  if (seen.variance !== undefined) requireFinite('variances', seen.variance);
}

function emptyRecord(layout: MixedLayout, half: number, keepsBlocks: boolean): MixedDraws {
  const draws = () => new Float64Array(2 * half);
  return {
    items: Array.from(layout.treesOf, (trees) => (trees > 0 ? draws() : undefined)),
    blocks: keepsBlocks ? Array.from({ length: layout.blocks }, draws) : [],
    spreads: {
      item: draws(),
      season: draws(),
      tree: draws(),
      plate: draws(),
      residual: draws(),
      block: draws(),
    },
  };
}

/**
 * Keeps two draws of a round: items at random about their conditional means, and the mirror image, which is as good
 * a draw and takes most of the simulation error out of the mean (antithetic variates).
 */
function keep(
  record: MixedDraws,
  sampler: MixedSampler,
  pair: number,
  middle: number,
  noise: Float64Array,
): void {
  const { block, itemMean, itemSd } = sampler;
  const centre = meanOfDraws(block);
  const level = middle + sampler.level() + centre;
  let next = 0;
  for (let item = 0; item < record.items.length; item++) {
    const draws = record.items[item];
    if (draws === undefined) continue;
    const mean = level + (itemMean[item] as number);
    const off = (itemSd[item] as number) * (noise[next++] as number);
    keepPair(draws, pair, mean + off, mean - off);
  }
  for (let b = 0; b < record.blocks.length; b++) {
    const own = (block[b] as number) - centre;
    keepPair(record.blocks[b] as Float64Array, pair, own, own);
  }
  const { item, season, tree, plate, residual } = sampler.spreads();
  keepPair(record.spreads.item, pair, item, item);
  keepPair(record.spreads.season, pair, season, season);
  keepPair(record.spreads.tree, pair, tree, tree);
  keepPair(record.spreads.plate, pair, plate, plate);
  keepPair(record.spreads.residual, pair, residual, residual);
  keepPair(record.spreads.block, pair, sampler.blockSpread(), sampler.blockSpread());
}

/** The mirror images follow all others. */
function keepPair(draws: Float64Array, pair: number, value: number, mirror: number): void {
  draws[pair] = value;
  draws[pair + draws.length / 2] = mirror;
}
