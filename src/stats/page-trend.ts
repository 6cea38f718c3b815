import { matchingSums } from './matching-sums.ts';
import { normalCdf } from './normal-cdf.ts';
import { rankTable } from './rank-table.ts';
import { tieSum } from './tie-sum.ts';

export type PageTrend = {
  /** Sum over treatments, in the order expected, of place times rank sum. */
  readonly l: number;
  readonly rankSums: readonly number[];
  /** Of L if no order is better than another. */
  readonly expected: number;
  /** The same, given the ties. */
  readonly variance: number;
  readonly z: number;
  /** Upper tail: the chance of an L as great. */
  readonly p: number;
  /** How p was had. */
  readonly method: 'exact' | 'normal';
};

export type PageOptions = {
  /** Whether p comes from every possible ranking (default: up to 8 treatments and 12 blocks). */
  readonly exact?: boolean;
};

/**
 * Page's test of an order fixed beforehand: do ranks rise along the treatments, over complete
 * blocks?
 *
 * L = sum j R_j; mean b k (k + 1)^2 / 4; variance by block k (k^2 - 1) / 12 times (k^3 - k -
 * sum(t^3 - t)) / (12 (k - 1)), which without ties is b k^2 (k + 1)^2 (k - 1) / 144. One-sided.
 * With ties the exact distribution is that over the arrangements of each block's own midranks.
 *
 * Source: Page 1963, Ordered hypotheses for multiple treatments, JASA 58:216-230; ties as in
 * Hollander and Wolfe 1999, Nonparametric Statistical Methods, section 7.2.
 *
 * @param values by block and treatment, the treatment expected lowest first; ranked within blocks
 * @returns undefined with fewer than two treatments, without blocks, or if every block ties
 *   everything
 * @throws RangeError if blocks differ in length or a value is not finite, or more than 10
 *   treatments are to be exact
 */
export function pageTrend(
  values: readonly (readonly number[])[],
  options: PageOptions = {},
): PageTrend | undefined {
  const { blocks: b, treatments: k, ranks, rankSums } = rankTable(values);
  if (b < 1 || k < 2) return undefined;
  const l = rankSums.reduce((sum, rankSum, place) => sum + (place + 1) * rankSum, 0);
  const expected = (b * k * (k + 1) ** 2) / 4;
  const variance = ranks.reduce((sum, block) => sum + blockVariance(block), 0);
  if (variance === 0) return undefined;
  const z = (l - expected) / Math.sqrt(variance);
  const { exact = k <= 8 && b <= 12 } = options;
  const p = exact ? exactTail(ranks, l) : normalCdf(-z);
  return { l, rankSums, expected, variance, z, p, method: exact ? 'exact' : 'normal' };
}

function blockVariance(ranks: readonly number[]): number {
  const k = ranks.length;
  return ((k * (k * k - 1)) / 12) * ((k ** 3 - k - tieSum(ranks)) / (12 * (k - 1)));
}

/** Chance of an L of at least `l` when every block's ranks fall in any order. */
function exactTail(ranks: readonly (readonly number[])[], l: number): number {
  const places = Array.from(ranks[0] ?? [], (_, place) => place + 1);
  const known = new Map<string, Map<number, number>>();
  let chances = new Map([[0, 1]]);
  for (const block of ranks) {
    // Twice the midranks are whole; their order in the block does not matter.
    const doubled = block.map((rank) => 2 * rank).sort((one, other) => one - other);
    const key = doubled.join();
    const sums = known.get(key) ?? asChances(matchingSums(places, doubled));
    known.set(key, sums);
    chances = convolved(chances, sums);
  }
  let tail = 0;
  for (const [sum, chance] of chances) if (sum >= 2 * l - 0.5) tail += chance;
  return Math.min(1, tail);
}

function asChances(counts: ReadonlyMap<number, number>): Map<number, number> {
  const all = [...counts.values()].reduce((sum, count) => sum + count, 0);
  return new Map([...counts].map(([sum, count]) => [sum, count / all]));
}

function convolved(
  one: ReadonlyMap<number, number>,
  other: ReadonlyMap<number, number>,
): Map<number, number> {
  const result = new Map<number, number>();
  for (const [a, chance] of one) {
    for (const [b, second] of other) result.set(a + b, (result.get(a + b) ?? 0) + chance * second);
  }
  return result;
}
