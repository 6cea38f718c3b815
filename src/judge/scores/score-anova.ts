import {
  sequentialAnova,
  type TestedTerm,
  type VarianceLine,
} from '../../stats/linear/sequential-anova.ts';
import { scoreLayout } from './score-layout.ts';
import type { ScoreModel } from './score-models.ts';

/** Where the spread of a crop's scores for a trait comes from; squares of the ledger's scale. */
export interface ScoreAnova {
  readonly sitting: TestedTerm;
  /** What tasters add to that; undefined where the unit is the plate, which has them allowed for. */
  readonly taster: TestedTerm | undefined;
  /** What cultivars or trees add to both: whether any of them differ at all. */
  readonly subject: TestedTerm;
  readonly residual: VarianceLine;
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
  return { sitting, taster, subject, residual: anova.residual };
}
