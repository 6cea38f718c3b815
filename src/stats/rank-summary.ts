import { floatAt } from './float-at.ts';
import { twoSidedTail } from './two-sided-tail.ts';

export type RankSummaryOptions = {
  /** How many places count as the top; 1 or more. */
  readonly top: number;
  /** Of the interval of the rank, a fraction between 0 and 1. */
  readonly confidence: number;
};

export type RankSummary = {
  /** Ends of the interval, whole ranks; 1 is the greatest value. */
  readonly low: number;
  readonly high: number;
  readonly median: number;
  /** Share of draws in which the item was in the top, sharing places with those it tied with. */
  readonly topShare: number;
  /** Share of draws in which it was first, in the same way; these sum to 1 over the items. */
  readonly firstShare: number;
};

/**
 * Ranks of items over many simulated draws of their values, the greatest value being rank 1: how
 * sure an order of estimates is.
 *
 * In a draw, items with equal values all have the mean of the ranks they take up; where m of them
 * compete for p places in the top, each counts as p / m in it. The interval is equal-tailed: it
 * leaves out the most ranks at either end that together hold at most (1 - confidence) / 2 of the
 * draws, half ranks being rounded outward.
 *
 * Source: ranks as functions of simulated parameters, Goldstein and Spiegelhalter 1996, JRSS A
 * 159:385-443, section 3 (cited from memory).
 *
 * @param draws by item, its values; draw d of every item belongs together
 * @returns by item
 * @throws RangeError if items differ in how many draws they have, there are none, or a value is not
 *   a number
 */
export function rankSummary(
  draws: readonly Float64Array[],
  options: RankSummaryOptions,
): RankSummary[] {
  const { top, confidence } = options;
  const tail = twoSidedTail(confidence);
  if (!(top >= 1)) throw new RangeError(`a top of ${top} has no place`);
  const tallies = tally(draws, top);
  const drawn = draws[0]?.length ?? 0;
  return tallies.map(({ halfRanks, top: inTop, first }) => ({
    low: Math.floor(quantile(halfRanks, tail * drawn) / 2),
    high: Math.ceil((halfRanks.length - 1 - quantile(halfRanks.toReversed(), tail * drawn)) / 2),
    median: middle(halfRanks, drawn),
    topShare: inTop / drawn,
    firstShare: first / drawn,
  }));
}

type Tally = {
  /** At twice the rank, how many draws had it. */
  readonly halfRanks: Float64Array;
  top: number;
  first: number;
};

function tally(draws: readonly Float64Array[], top: number): Tally[] {
  const items = draws.length;
  const drawn = draws[0]?.length ?? 0;
  if (draws.some((values) => values.length !== drawn || drawn === 0)) {
    throw new RangeError('items need the same number of draws, at least one');
  }
  const tallies = draws.map(() => ({
    halfRanks: new Float64Array(2 * items + 2),
    top: 0,
    first: 0,
  }));
  const values = new Float64Array(items);
  for (let draw = 0; draw < drawn; draw++) {
    for (const [item, own] of draws.entries()) values[item] = floatAt(own, draw);
    const sorted = values.toSorted();
    // NaN sorts to the end.
    if (Number.isNaN(sorted.at(-1))) throw new RangeError('a draw is not a number');
    for (const [item, counts] of tallies.entries()) {
      const value = floatAt(values, item);
      const below = countBelow(sorted, value, false);
      const upTo = countBelow(sorted, value, true);
      const better = items - upTo;
      const tied = upTo - below;
      const place = 2 * better + tied + 1;
      counts.halfRanks[place] = floatAt(counts.halfRanks, place) + 1;
      counts.top += Math.min(1, Math.max(0, (top - better) / tied));
      if (better === 0) counts.first += 1 / tied;
    }
  }
  return tallies;
}

/** How many of the ascending values are below `value`, or, with `included`, not above it. */
function countBelow(ascending: Float64Array, value: number, included: boolean): number {
  let low = 0;
  let high = ascending.length;
  while (low < high) {
    const mid = (low + high) >>> 1;
    const here = floatAt(ascending, mid);
    if (here < value || (included && here === value)) low = mid + 1;
    else high = mid;
  }
  return low;
}

/** The first place before which lie at most `allowed` counts, but up to and with which lie more. */
function quantile(counts: Float64Array, allowed: number): number {
  let passed = 0;
  for (let place = 0; place < counts.length; place++) {
    passed += floatAt(counts, place);
    // A billionth of a draw, so that 0.025 of 10,000 draws is 250 whatever the rounding.
    if (passed > allowed + 1e-9) return place;
  }
  return counts.length - 1;
}

/** Mean of the ranks of the two middle draws. */
function middle(halfRanks: Float64Array, drawn: number): number {
  const lower = quantile(halfRanks, Math.floor((drawn - 1) / 2));
  const upper = quantile(halfRanks, Math.floor(drawn / 2));
  return (lower + upper) / 4;
}
