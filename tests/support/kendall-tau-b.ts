import { normalCdf } from '../../src/stats/distributions/normal-cdf.ts';
import { numberAt } from '../../src/stats/numbers/number-at.ts';
import { requireFinite } from '../../src/stats/numbers/require-finite.ts';

/** How far two lists put things in the same order. */
export type RankCorrelation = {
  /** -1 to 1. */
  readonly coefficient: number;
  /** Two-sided. */
  readonly p: number;
  /** How p was had. */
  readonly method: 'exact' | 'approximate';
};

/** The most pairs for which p without ties is exact. */
const MOST_EXACT = 49;

/**
 * Kendall's tau-b: pairs in the same order less pairs in opposite order, over the geometric mean of
 * the numbers of pairs not tied in either list.
 *
 * p: exact without ties and below 50 pairs, else normal with the variance for ties, without
 * continuity correction.
 *
 * Source: Kendall and Gibbons 1990, Rank Correlation Methods, 5th ed., chapters 3 to 5.
 *
 * @returns undefined for fewer than two pairs or if either list is one tie
 * @throws RangeError if the lists differ in length or a value is not finite
 */
export function kendallTauB(
  x: readonly number[],
  y: readonly number[],
): RankCorrelation | undefined {
  requireFinite('x', x);
  requireFinite('y', y);
  if (x.length !== y.length) throw new RangeError('the two lists differ in length');
  const n = x.length;
  const pairs = (n * (n - 1)) / 2;
  const [tiesX, tiesY] = [tieGroups(x), tieGroups(y)];
  const untied = (groups: readonly number[]) => pairs - total(groups, (t) => (t * (t - 1)) / 2);
  const scale = Math.sqrt(untied(tiesX)) * Math.sqrt(untied(tiesY));
  if (scale === 0) return undefined;
  const score = concordance(x, y);
  const coefficient = score / scale;
  const tieFree = untied(tiesX) === pairs && untied(tiesY) === pairs;
  if (tieFree && n <= MOST_EXACT) {
    return { coefficient, p: exactTails(n, score), method: 'exact' };
  }
  const z = score / Math.sqrt(scoreVariance(n, tiesX, tiesY));
  return { coefficient, p: 2 * normalCdf(-Math.abs(z)), method: 'approximate' };
}

function concordance(x: readonly number[], y: readonly number[]): number {
  let score = 0;
  for (let i = 1; i < x.length; i++) {
    for (let j = 0; j < i; j++) {
      const across = Math.sign(numberAt(x, i) - numberAt(x, j));
      score += across * Math.sign(numberAt(y, i) - numberAt(y, j));
    }
  }
  return score;
}

/** Sizes of the groups of equal values, groups of one among them. */
function tieGroups(values: readonly number[]): number[] {
  const counts = new Map<number, number>();
  for (const value of values) counts.set(value, (counts.get(value) ?? 0) + 1);
  return [...counts.values()];
}

function total(groups: readonly number[], part: (size: number) => number): number {
  return groups.reduce((sum, size) => sum + part(size), 0);
}

function scoreVariance(n: number, tiesX: readonly number[], tiesY: readonly number[]): number {
  const main = (t: number) => t * (t - 1) * (2 * t + 5);
  const two = (t: number) => t * (t - 1);
  const three = (t: number) => t * (t - 1) * (t - 2);
  const variance = (main(n) - total(tiesX, main) - total(tiesY, main)) / 18;
  const pairTerm = (total(tiesX, two) * total(tiesY, two)) / (2 * two(n));
  const threes = total(tiesX, three) * total(tiesY, three);
  return variance + pairTerm + (threes === 0 ? 0 : threes / (9 * three(n)));
}

/** Two-sided p from the number of orders of n with each count of inversions. */
function exactTails(n: number, score: number): number {
  // Placing item m among m - 1 others adds 0 to m - 1 inversions, each as likely.
  let chances = [1];
  for (let m = 2; m <= n; m++) {
    const next = new Array<number>(chances.length + m - 1).fill(0);
    chances.forEach((chance, inversions) => {
      for (let added = 0; added < m; added++) {
        next[inversions + added] = numberAt(next, inversions + added) + chance / m;
      }
    });
    chances = next;
  }
  const most = chances.length - 1;
  const fewer = (most - Math.abs(score)) / 2;
  const tail = chances.slice(0, fewer + 1).reduce((sum, chance) => sum + chance, 0);
  return Math.min(1, 2 * tail);
}
