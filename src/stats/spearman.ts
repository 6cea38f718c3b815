import { matchingSums } from './matching-sums.ts';
import { midranks } from './midranks.ts';
import { numberAt } from './number-at.ts';
import { tCdf } from './t-cdf.ts';

export type RankCorrelation = {
  /** -1 to 1. */
  readonly coefficient: number;
  /** Two-sided: the chance of a coefficient as far from 0 if the lists are unrelated. */
  readonly p: number;
  readonly method: 'exact' | 'approximate';
};

export type SpearmanOptions = {
  /** Whether p comes from every possible pairing (default: up to 9 pairs; 10 at most). */
  readonly exact?: boolean;
};

/**
 * Spearman's rank correlation: Pearson's correlation of midranks.
 *
 * p: by every pairing of the ranks as they are, ties included, or by t = r sqrt((n - 2) / (1 -
 * r^2)) on n - 2 degrees of freedom.
 *
 * Source: Kendall and Gibbons 1990, Rank Correlation Methods, 5th ed., chapters 1, 3 and 4.
 *
 * @returns undefined for fewer than three pairs or if either list is one tie
 * @throws RangeError if the lists differ in length, a value is not finite, or over 10 pairs are to
 *   be exact
 */
export function spearman(
  x: readonly number[],
  y: readonly number[],
  options: SpearmanOptions = {},
): RankCorrelation | undefined {
  if (x.length !== y.length) throw new RangeError('the two lists differ in length');
  const n = x.length;
  if (n < 3) return undefined;
  const [a, b] = [midranks(x), midranks(y)];
  const middle = (n + 1) / 2;
  const product = (one: readonly number[], other: readonly number[]) =>
    one.reduce((sum, rank, i) => sum + (rank - middle) * (numberAt(other, i) - middle), 0);
  const scale = Math.sqrt(product(a, a)) * Math.sqrt(product(b, b));
  if (scale === 0) return undefined;
  const shared = product(a, b);
  const coefficient = Math.max(-1, Math.min(1, shared / scale));
  return (options.exact ?? n <= 9)
    ? { coefficient, p: exactTails(a, b, shared), method: 'exact' }
    : { coefficient, p: tTails(coefficient, n), method: 'approximate' };
}

function tTails(coefficient: number, n: number): number {
  const rest = (1 - coefficient) * (1 + coefficient);
  // At full agreement t has no bound and its tails are empty.
  if (rest === 0) return 0;
  return 2 * tCdf(-Math.abs(coefficient) * Math.sqrt((n - 2) / rest), n - 2);
}

function exactTails(a: readonly number[], b: readonly number[], shared: number): number {
  // Twice a midrank less its mean is whole, so the sums compare without rounding.
  const centred = (ranks: readonly number[]) => ranks.map((rank) => 2 * rank - (ranks.length + 1));
  let all = 0;
  let extreme = 0;
  for (const [sum, count] of matchingSums(centred(a), centred(b))) {
    all += count;
    if (Math.abs(sum) >= Math.abs(4 * shared) - 0.5) extreme += count;
  }
  return extreme / all;
}
