import { friedman } from './friedman.ts';

export type KendallW = {
  /** 0 for no agreement to 1 for full, corrected for ties. */
  readonly w: number;
  /** As it would be without ties. */
  readonly uncorrected: number;
  /** Mean of Spearman's correlation over all pairs of judges, by W; absent for one judge. */
  readonly meanSpearman: number | undefined;
  readonly chiSquare: number;
  readonly df: number;
  readonly p: number;
};

/**
 * Kendall's coefficient of concordance between judges who rank the same items.
 *
 * W = chi-square / (b (k - 1)) with Friedman's chi-square; mean Spearman = (b W - 1) / (b - 1).
 *
 * Source: Kendall and Gibbons 1990, Rank Correlation Methods, 5th ed., chapter 6.
 *
 * @param values by judge and item; ranked within judges
 * @returns undefined where Friedman's test is
 * @throws RangeError if judges differ in how many items they have or a value is not finite
 */
export function kendallW(values: readonly (readonly number[])[]): KendallW | undefined {
  const test = friedman(values);
  if (test === undefined) return undefined;
  const { blocks, df, chiSquare, uncorrected, p } = test;
  const w = chiSquare / (blocks * df);
  return {
    w,
    uncorrected: uncorrected / (blocks * df),
    meanSpearman: blocks > 1 ? (blocks * w - 1) / (blocks - 1) : undefined,
    chiSquare,
    df,
    p,
  };
}
