/** A scale on which measured figures vary about evenly, so that effects can be added. */
export type MeasuredScale = {
  /** The figure on the scale. */
  readonly forward: (figure: number) => number;
  /** Sampling variance on the scale, from that of the figure (first-order). */
  readonly variance: (figure: number, variance: number) => number;
  /** Mean of the figure itself when its value on the scale is normal with this mean and variance. */
  readonly expectation: (mean: number, variance: number) => number;
};

/** For sizes, where spread grows with the mean and no figure is 0: the mean is that of the lognormal distribution. */
export const logScale: MeasuredScale = {
  forward: Math.log,
  variance: (figure, variance) => variance / (figure * figure),
  expectation: (mean, variance) => Math.exp(mean + variance / 2),
};

/** For rates that can be 0, such as fruit per branch: square roots. */
export const rootScale: MeasuredScale = {
  forward: Math.sqrt,
  variance: (figure, variance) => (figure > 0 ? variance / (4 * figure) : 0),
  expectation: (mean, variance) => Math.max(0, mean) ** 2 + variance,
};

/** For shares: arcsine of the root, whose sampling variance hardly depends on the share. See `shareFigure`. */
export const shareScale: MeasuredScale = {
  forward: (share) => Math.asin(Math.sqrt(share)),
  variance: (share, variance) => variance / (4 * share * (1 - share)),
  expectation: (mean, variance) =>
    (1 - Math.exp(-2 * variance) * Math.cos(2 * Math.min(Math.PI / 2, Math.max(0, mean)))) / 2,
};

/**
 * A counted share on the arcsine scale with its sampling variance, good down to counts of a few.
 *
 * Anscombe 1948, Biometrika 35:246-254: asin sqrt((x + 3/8) / (n + 3/4)), variance 1 / (4 n + 2).
 *
 * @param count 0 to of
 * @param of at least 1
 */
export function shareFigure(count: number, of: number): { value: number; variance: number } {
  if (!(of >= 1 && count >= 0 && count <= of)) {
    throw new RangeError(`${count} of ${of} is not a share`);
  }
  return {
    value: Math.asin(Math.sqrt((count + 3 / 8) / (of + 3 / 4))),
    variance: 1 / (4 * of + 2),
  };
}
