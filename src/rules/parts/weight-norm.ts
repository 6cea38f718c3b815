import { median } from '../../stats/describe/median.ts';
import { medianAbsoluteDeviation } from '../../stats/describe/median-absolute-deviation.ts';

/** Fewer weights do not say what is usual (common practice, no source). */
const FEWEST = 8;

/**
 * Fruit of one tree differ by about a fifth of their weight at least (common practice, no source).
 * It keeps a few weights that happen to be alike from making the next one look odd.
 */
const LEAST_SPREAD = 0.2;

/** What fruit of a cultivar's crop usually weigh. */
export interface WeightNorm {
  readonly weighed: number;
  /** g */
  readonly usual: number;
  /** The weights, g, whose modified z-scores are minus and plus `score`. */
  limits(score: number): { readonly light: number; readonly heavy: number };
}

/**
 * The norm of some weights, g, all above 0; undefined where there are too few.
 *
 * The score is the modified z-score 0.6745 (x - median) / MAD of the logarithms, since weights of
 * fruit differ by ratios (Iglewicz and Hoaglin 1993, How to Detect and Handle Outliers).
 */
export function weightNorm(weights: readonly number[]): WeightNorm | undefined {
  if (weights.length < FEWEST) return undefined;
  // Sorted as plain numbers first: the medians then sort what is in order, several times faster.
  const logs = Array.from(Float64Array.from(weights).sort(), Math.log);
  const centre = median(logs);
  const deviation = medianAbsoluteDeviation(logs);
  if (centre === undefined || deviation === undefined) return undefined;
  // The deviation comes scaled by 1.4826 = 1 / 0.6745.
  const spread = Math.max(deviation, LEAST_SPREAD);
  return {
    weighed: logs.length,
    usual: Math.exp(centre),
    limits: (score) => ({
      light: Math.exp(centre - score * spread),
      heavy: Math.exp(centre + score * spread),
    }),
  };
}
