import { numberAt } from '../numbers/number-at.ts';
import { friedman } from './friedman.ts';
import { rankTable } from './rank-table.ts';

/** More steps than this are not gone through one by one: by then the F approximation is close. */
const MOST_STEPS = 400_000;

/**
 * The chance that blocks which rank at random come as close to each other as these did, or closer:
 * the upper tail of Friedman's statistic, the ranks of each block (its ties among them) dealt to the
 * treatments in every possible way.
 *
 * Exact for few blocks and treatments, where chi-square is far off. All that is kept of the blocks
 * dealt so far is their rank sums, in order, with how often each comes; the next block is added to
 * these in each of its orders. Where that would be too many, Iman and Davenport's F (see
 * `friedman`).
 *
 * Source: Friedman 1937, JASA 32:675-701, whose tables are of this distribution without ties;
 * Kendall and Gibbons 1990, Rank Correlation Methods, 5th ed., chapter 6.
 *
 * @param values by block (a taster) and treatment (a plate); ranked within blocks
 * @returns 0 to 1; undefined where Friedman's test is
 * @throws RangeError if blocks differ in length or a value is not finite
 * @example friedmanChance([[1, 2, 3], [1, 2, 3], [1, 2, 3]]) // => 1 / 36
 */
export function friedmanChance(values: readonly (readonly number[])[]): number | undefined {
  const test = friedman(values);
  if (test === undefined) return undefined;
  // Midranks are halves, so their doubles are whole and add up exactly.
  const blocks = rankTable(values).ranks.map((ranks) => ranks.map((rank) => 2 * rank));
  const dealt = randomSums(blocks);
  if (dealt === undefined) return test.fTest?.p ?? test.p;
  const seen = spreadOf(blocks.reduce(added, new Array(test.treatments).fill(0)));
  let reached = 0;
  for (const { sums, chance } of dealt) if (spreadOf(sums) >= seen) reached += chance;
  return Math.min(1, reached);
}

interface Dealt {
  readonly sums: readonly number[];
  chance: number;
}

/** Every set of rank sums that random blocks give, with its chance; undefined if there are too many. */
function randomSums(blocks: readonly (readonly number[])[]): readonly Dealt[] | undefined {
  const [first = [], ...rest] = blocks;
  let dealt: readonly Dealt[] = [{ sums: first.toSorted((a, b) => a - b), chance: 1 }];
  let steps = 0;
  for (const block of rest) {
    const ways = waysOf(block);
    if (ways === undefined) return undefined;
    steps += dealt.length * ways.length;
    if (steps > MOST_STEPS) return undefined;
    const next = new Map<string, Dealt>();
    for (const { sums, chance } of dealt) {
      for (const way of ways) {
        const both = added(sums, way).sort((a, b) => a - b);
        const key = both.join(' ');
        const known = next.get(key);
        const share = chance / ways.length;
        if (known === undefined) next.set(key, { sums: both, chance: share });
        else known.chance += share;
      }
    }
    dealt = [...next.values()];
  }
  return dealt;
}

function added(sums: readonly number[], ranks: readonly number[]): number[] {
  return sums.map((sum, at) => sum + numberAt(ranks, at));
}

/** Grows with Friedman's statistic, since the ties are the same in every order. */
function spreadOf(sums: readonly number[]): number {
  return sums.reduce((all, sum) => all + sum * sum, 0);
}

/** More orders of a block than this are not written out. */
const MOST_WAYS = 5_040;

/** The different orders of some ranks; undefined if they are too many. */
function waysOf(ranks: readonly number[]): readonly (readonly number[])[] | undefined {
  let ways: readonly (readonly number[])[] = [[]];
  const left = new Map<number, number>();
  for (const rank of ranks) left.set(rank, (left.get(rank) ?? 0) + 1);
  for (let place = 0; place < ranks.length; place++) {
    ways = ways.flatMap((way) =>
      [...left]
        .filter(([rank, count]) => way.filter((one) => one === rank).length < count)
        .map(([rank]) => [...way, rank]),
    );
    if (ways.length > MOST_WAYS) return undefined;
  }
  return ways;
}
