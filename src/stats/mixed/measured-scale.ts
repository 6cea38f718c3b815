/** A scale on which measured figures vary about evenly, so that effects can be added. */
export type MeasuredScale = {
  /** Mean of the figure itself when its value on the scale is normal with this mean, and the swing of its variance. */
  readonly figure: (mean: number, swing: number) => number;
  /** What a variance on the scale does to the mean of the figure: reckoned once for many means. */
  readonly swing: (variance: number) => number;
  /**
   * The mean of `figure` over means that lie some offsets apart (the seasons around their average), as a function
   * of the mean they lie around: what does not depend on it is reckoned once.
   */
  readonly around: (offsets: Float64Array, swing: number) => (mean: number) => number;
  /** Size of spread to be reckoned with before anything was seen. */
  readonly spread: number;
};

/** A figure on its scale with its sampling variance there. */
export type ScaledFigure = { readonly value: number; readonly variance: number };

/** For sizes: logarithms. The mean is that of the lognormal distribution. */
export const logScale: MeasuredScale = {
  figure: (mean, swing) => Math.exp(mean + swing),
  swing: (variance) => variance / 2,
  around: (offsets, swing) => {
    const factor = meanOf(offsets, (offset) => Math.exp(offset + swing));
    return (mean) => Math.exp(mean) * factor;
  },
  spread: 0.5,
};

/**
 * A mean size on the log scale.
 *
 * @param mean above 0
 * @param variance sampling variance of the mean (first-order on the log scale)
 */
export function sizeFigure(mean: number, variance: number): ScaledFigure {
  if (!(mean > 0)) throw new RangeError(`a size is above 0, not ${mean}`);
  return { value: Math.log(mean), variance: variance / (mean * mean) };
}

/** For counts per unit, such as fruit per branch, none among them: square roots. */
export const rootScale: MeasuredScale = {
  figure: (mean, swing) => Math.max(0, mean) ** 2 + swing,
  swing: (variance) => variance,
  around: (offsets, swing) => {
    const centre = meanOf(offsets, (offset) => offset);
    const square = meanOf(offsets, (offset) => offset * offset);
    const least = Math.min(...offsets);
    return (mean) =>
      mean + least >= 0
        ? mean * (mean + 2 * centre) + square + swing
        : meanOf(offsets, (offset) => rootScale.figure(mean + offset, swing));
  },
  spread: 0.5,
};

/**
 * A rate on the root scale.
 *
 * With 1/4 added the mean root of a Poisson count is right to first order; its variance is 1/4 (Brown, Cai and Zhou
 * 2010, Annals of Statistics 38:2005-2046).
 *
 * @param count 0 or more
 * @param units what it was counted on, above 0
 */
export function rateFigure(count: number, units: number): ScaledFigure {
  if (!(count >= 0 && units > 0)) throw new RangeError(`${count} on ${units} is not a rate`);
  return { value: Math.sqrt((count + 1 / 4) / units), variance: 1 / (4 * units) };
}

/** For shares: arcsine of the root, whose sampling variance hardly depends on the share. */
export const shareScale: MeasuredScale = {
  figure: (mean, swing) => (1 - swing * Math.cos(2 * Math.min(Math.PI / 2, Math.max(0, mean)))) / 2,
  swing: (variance) => Math.exp(-2 * variance),
  around: (offsets, swing) => {
    const cosine = meanOf(offsets, (offset) => Math.cos(2 * offset));
    const sine = meanOf(offsets, (offset) => Math.sin(2 * offset));
    const [least, most] = [Math.min(...offsets), Math.max(...offsets)];
    // cos(a + b) = cos a cos b - sin a sin b, as long as no offset leads out of the bounds.
    return (mean) =>
      mean + least >= 0 && mean + most <= Math.PI / 2
        ? (1 - swing * (Math.cos(2 * mean) * cosine - Math.sin(2 * mean) * sine)) / 2
        : meanOf(offsets, (offset) => shareScale.figure(mean + offset, swing));
  },
  spread: 0.25,
};

/**
 * A counted share on the arcsine scale.
 *
 * With 1/4 added at either end its mean is right to first order (Brown, Cai and Zhou 2010, as above); the variance is
 * Anscombe's (1948, Biometrika 35:246-254).
 *
 * @param count 0 to of
 * @param of at least 1
 */
export function shareFigure(count: number, of: number): ScaledFigure {
  if (!(of >= 1 && count >= 0 && count <= of)) {
    throw new RangeError(`${count} of ${of} is not a share`);
  }
  const value = Math.asin(Math.sqrt((count + 1 / 4) / (of + 1 / 2)));
  return { value, variance: 1 / (4 * of + 2) };
}

function meanOf(values: Float64Array, of: (value: number) => number): number {
  let sum = 0;
  for (let k = 0; k < values.length; k++) sum += of(values[k] as number);
  return sum / values.length;
}
