import { normalCdf } from '../../stats/distributions/normal-cdf.ts';

/** What the draws of a figure say: mean, variance, and the interval that is printed. */
export interface Standing {
  readonly mean: number;
  readonly variance: number;
  readonly low: number;
  readonly high: number;
}

export interface SettleChance {
  /** That the whole interval comes to lie above the mark. */
  readonly above: number;
  readonly below: number;
}

/**
 * Chance that more evidence brings the interval of a figure clear of a mark.
 *
 * With a share `left` of its variance v left after the evidence, the mean moves to N(m, v (1 - left)) and both ends of
 * the interval draw in by sqrt(left) (the preposterior analysis of Raiffa and Schlaifer 1961, Applied Statistical
 * Decision Theory, chapter 5; citation from memory). Above: F((m - mark - (m - low) sqrt(left)) / sqrt(v (1 - left))),
 * F the normal distribution; below likewise.
 *
 * @param left 0 to 1; at 1 nothing is added, and the answer is what holds already
 */
export function settleChance(
  { mean, variance, low, high }: Standing,
  mark: number,
  left: number,
): SettleChance {
  const move = Math.sqrt(Math.max(0, variance * (1 - left)));
  const reach = Math.sqrt(Math.min(1, Math.max(0, left)));
  return {
    above: chanceBeyond(mean - mark - (mean - low) * reach, move),
    below: chanceBeyond(mark - mean - (high - mean) * reach, move),
  };
}

function chanceBeyond(distance: number, move: number): number {
  if (!(move > 0)) return distance >= 0 ? 1 : 0;
  return normalCdf(distance / move);
}
