import { tInterval } from '../stats/intervals/t-interval.ts';
import type { Difference } from '../stats/intervals/welch-difference.ts';
import type { ScoreModel } from './score-models.ts';

/**
 * Difference of two subjects' least-squares means with its t interval on the residual degrees of
 * freedom; `undefined` if sittings and tasters do not connect the two.
 *
 * Formula: se^2 = c_aa + c_bb - 2 c_ab (Searle 1971, Linear Models, section 5.4).
 *
 * @param a place in the model's subjects
 * @param confidence a fraction, such as 0.95
 */
export function scoreDifference(
  model: ScoreModel,
  a: number,
  b: number,
  confidence: number,
): Difference | undefined {
  const group = model.groups.find(({ members }) => members.includes(a) && members.includes(b));
  if (group === undefined) return undefined;
  const difference = (model.means[a] ?? 0) - (model.means[b] ?? 0);
  const { members, covariance } = group;
  if (covariance === undefined) {
    return { difference, se: undefined, low: undefined, high: undefined };
  }
  const [i, j] = [members.indexOf(a), members.indexOf(b)];
  const at = (row: number, column: number) => covariance[row]?.[column] ?? 0;
  const se = Math.sqrt(Math.max(0, at(i, i) + at(j, j) - 2 * at(i, j)));
  return { difference, se, ...tInterval(difference, se, model.df, confidence) };
}
