import { median } from '../../stats/describe/median.ts';
import { leastSignificantDifference } from '../../stats/linear/least-significant-difference.ts';
import type { ScoreModel } from './score-models.ts';

/**
 * The least difference of two means that a t test calls real, for two that were tasted about as
 * often as most: from the median, over all pairs that can be compared, of the standard error of
 * their difference. It holds for one comparison chosen beforehand.
 *
 * Units: the ledger's scale.
 *
 * @param alpha a fraction, such as 0.05
 * @returns `undefined` where no two can be compared, or no standard error can be had
 */
export function leastScoreDifference(
  { groups, df }: ScoreModel,
  alpha: number,
): number | undefined {
  const errors = groups.flatMap(({ covariance = [] }) =>
    covariance.flatMap((row, i) =>
      row.slice(0, i).map((shared, j) => {
        const variance = (row[i] ?? 0) + (covariance[j]?.[j] ?? 0) - 2 * shared;
        return Math.sqrt(Math.max(0, variance));
      }),
    ),
  );
  const usual = median(errors);
  return usual === undefined ? undefined : leastSignificantDifference(usual, df, alpha);
}
