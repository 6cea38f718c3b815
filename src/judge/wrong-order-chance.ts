import { normalCdf } from '../stats/distributions/normal-cdf.ts';

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

/** Halves of the integral are cut into so many steps; an even number. */
const STEPS = 96;
/** Standard deviations beyond which a normal density is as good as nothing. */
const FAR = 8.5;

/**
 * What `wrongOrderChance` can be expected to be once the gap has been observed again.
 *
 * With D ~ N(gap, variance) and an observation of D with variance `noise`, the estimate afterwards
 * is X ~ N(gap, u) with D - X ~ N(0, v), v = 1 / (1 / variance + 1 / noise), u = variance - v (the
 * preposterior analysis of Raiffa & Schlaifer 1961, Applied Statistical Decision Theory, chapter 5;
 * citation from memory). The chance is then the mean of P(D and X differ in sign) over X, here by
 * Simpson's rule on each side of 0, good to 5e-7. Without a gap it is arccos(sqrt(u / variance)) / pi.
 *
 * @param noise variance of the observation, above 0
 */
export function expectedWrongOrderChance(gap: number, variance: number, noise: number): number {
  if (!(variance > 0)) return wrongOrderChance(gap, variance);
  const after = 1 / (1 / variance + 1 / noise);
  const reach = Math.sqrt(variance - after);
  const rest = Math.sqrt(after);
  if (!(reach > 0)) return wrongOrderChance(gap, variance);
  // The estimate ends up at x or -x with this density; either way the order is wrong this often.
  const side = (centre: number) => {
    const from = Math.max(0, centre - FAR * reach);
    const to = Math.min(FAR * rest, centre + FAR * reach);
    return simpson(
      from,
      to,
      (x) => (normalDensity((x - centre) / reach) / reach) * normalCdf(-x / rest),
    );
  };
  return side(Math.abs(gap)) + side(-Math.abs(gap));
}

function normalDensity(z: number): number {
  return Math.exp(-0.5 * z * z) / Math.sqrt(2 * Math.PI);
}

function simpson(from: number, to: number, density: (x: number) => number): number {
  if (!(to > from)) return 0;
  const step = (to - from) / STEPS;
  let total = density(from) + density(to);
  for (let at = 1; at < STEPS; at++) total += (at % 2 === 1 ? 4 : 2) * density(from + at * step);
  return (total * step) / 3;
}
