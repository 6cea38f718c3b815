import { normalQuantile } from './normal-quantile.ts';
import { twoSidedTail } from './two-sided-tail.ts';

/**
 * Least significant difference between two rank sums of complete blocks: z sqrt(b k (k + 1) / 6),
 * two-sided, to be used only after a significant Friedman test.
 *
 * Source: ISO 8587:2006, Sensory analysis - Methodology - Ranking; normal approximation.
 *
 * @param confidence a fraction between 0 and 1, such as 0.95
 */
export function rankSumLsd(blocks: number, treatments: number, confidence: number): number {
  const z = -normalQuantile(twoSidedTail(confidence));
  return z * Math.sqrt((blocks * treatments * (treatments + 1)) / 6);
}
