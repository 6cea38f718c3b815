import { median } from '../../stats/describe/quantile.ts';
import { fUpper } from '../../stats/distributions/f-distribution.ts';
import { leastSignificantDifference } from '../../stats/linear/least-significant-difference.ts';
import type { NestedSpread } from '../../stats/linear/nested-spread.ts';
import {
  sequentialAnova,
  type TestedTerm,
  type VarianceLine,
} from '../../stats/linear/sequential-anova.ts';
import { scoreLayout } from './score-layout.ts';
import { plateSpread, type ScoreModel } from './score-models.ts';

/** Where the spread of a crop's scores for a trait comes from; squares of the ledger's scale. */
export interface ScoreAnova {
  readonly sitting: TestedTerm;
  /** What tasters add to that; undefined where the unit is the plate, which has them allowed for. */
  readonly taster: TestedTerm | undefined;
  /** What cultivars or trees add to both: whether any of them differ at all. */
  readonly subject: TestedTerm;
  readonly residual: VarianceLine;
  /** What subjects are held against, where plates share the luck of trees and seasons; else the residual. */
  readonly spread: NestedSpread | undefined;
}

/**
 * Analysis of variance of a model's scores, sittings first, then tasters, subjects last (see
 * `sequentialAnova`). Where sittings and tasters do not join the subjects, only differences within
 * groups count.
 *
 * @returns `undefined` where no standard error can be had
 */
export function scoreAnova(model: ScoreModel): ScoreAnova | undefined {
  if (model.unsure !== undefined) return undefined;
  const layout = scoreLayout(model.subjects, model.unit);
  const factors = [layout.sitting, layout.taster, layout.subject];
  const anova = sequentialAnova(
    layout.y,
    factors.filter((factor) => factor !== undefined),
  );
  const [sitting, subject] = [anova?.terms[0], anova?.terms.at(-1)];
  if (anova === undefined || !sitting || !subject) return undefined;
  const taster = layout.taster === undefined ? undefined : anova.terms[1];
  const spread = plateSpread(layout, model.by);
  return { sitting, taster, subject: against(subject, spread), residual: anova.residual, spread };
}

function against(term: TestedTerm, spread: NestedSpread | undefined): TestedTerm {
  if (spread === undefined || term.f === undefined || spread.error === 0) return term;
  const f = term.ms / spread.error;
  return { ...term, f, p: fUpper(f, term.df, spread.df) };
}

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
