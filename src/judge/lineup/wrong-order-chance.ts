import { normalCdf } from '../../stats/distributions/normal-cdf.ts';
import { owensT } from '../../stats/distributions/owens-t.ts';

/**
 * Chance that two figures truly stand the other way round than they seem to.
 *
 * Formula: P(D < 0) for D normal with mean |gap| and the given variance; one half without a gap,
 * or where nothing is known.
 *
 * @param gap how far one seems ahead of the other
 * @param variance of the gap, 0 or more
 */
export function wrongOrderChance(gap: number, variance: number): number {
  if (gap === 0) return 0.5;
  return variance > 0 ? normalCdf(-Math.abs(gap) / Math.sqrt(variance)) : 0;
}

/** A normal density is as good as nothing so many standard deviations out. */
const FAR = 38;

/**
 * What `wrongOrderChance` can be expected to be once more is known of the gap.
 *
 * With D ~ N(gap, before) and a variance `after` of D left, the estimate afterwards is X ~ N(gap, before - after) with
 * D - X ~ N(0, after) (the preposterior analysis of Raiffa & Schlaifer 1961, Applied Statistical Decision Theory,
 * chapter 5; citation from memory). The chance is the mean of P(D and X differ in sign) over X, which is
 * 2 T(|gap| / sqrt(before), sqrt(after / (before - after))) with T the function of Owen 1956.
 *
 * @param before variance of the gap now, 0 or more
 * @param after what of it will be left, at most `before`
 */
export function expectedWrongOrderChance(gap: number, before: number, after: number): number {
  if (!(after < before)) return wrongOrderChance(gap, before);
  const h = Math.abs(gap) / Math.sqrt(before);
  return h > FAR ? 0 : 2 * owensT(h, Math.sqrt(Math.max(0, after) / (before - after)));
}
