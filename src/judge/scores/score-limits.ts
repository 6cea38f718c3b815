import { tInterval } from '../../stats/intervals/t-interval.ts';
import type { Interval } from '../../stats/numbers/interval.ts';
import type { ScoreModel } from './score-models.ts';

/**
 * The t interval of a subject's mean on the residual degrees of freedom, not kept within the scale;
 * `undefined` where no standard error can be had.
 *
 * @param confidence a fraction, such as 0.95
 */
export function scoreLimits(
  { means, errors, df }: ScoreModel,
  subject: number,
  confidence: number,
): Interval | undefined {
  const [mean, se] = [means[subject], errors[subject]];
  if (mean === undefined || se === undefined) return undefined;
  return tInterval(mean, se, df, confidence);
}
