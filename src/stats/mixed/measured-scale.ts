/** A scale on which measured figures vary about evenly, so that effects can be added. */
export type MeasuredScale = {
  /** Mean of the figure itself when its value on the scale is normal with this mean, and the swing of its variance. */
  readonly figure: (mean: number, swing: number) => number;
  /** What a variance on the scale does to the mean of the figure: reckoned once for many means. */
  readonly swing: (variance: number) => number;
  /**
   * Puts in place of each of some means the mean of `figure` over what lies so far from it as the offsets say (the
   * seasons around their average): what does not depend on the means is reckoned once for all.
   */
  readonly around: (means: Float64Array, offsets: Float64Array, swing: number) => void;
  /** Size of spread to be reckoned with before anything was seen. */
  readonly spread: number;
};

/** A figure on its scale with its sampling variance there. */
export type ScaledFigure = { readonly value: number; readonly variance: number };

/** For sizes: logarithms. The mean is that of the lognormal distribution. */
export const logScale: MeasuredScale = {
  figure: (mean, swing) => Math.exp(mean + swing),
  swing: (variance) => variance / 2,
  around: (means, offsets, swing) => {
    let factor = 0;
    for (let k = 0; k < offsets.length; k++) factor += Math.exp((offsets[k] as number) + swing);
    factor /= offsets.length;
    for (let at = 0; at < means.length; at++) means[at] = Math.exp(means[at] as number) * factor;
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
  around: (means, offsets, swing) => {
    let [centre, square, least] = [0, 0, Number.POSITIVE_INFINITY];
    for (let k = 0; k < offsets.length; k++) {
      const offset = offsets[k] as number;
      centre += offset;
      square += offset * offset;
      least = Math.min(least, offset);
    }
    centre /= offsets.length;
    square /= offsets.length;
    for (let at = 0; at < means.length; at++) {
      const mean = means[at] as number;
      means[at] =
        mean + least >= 0
          ? mean * (mean + 2 * centre) + square + swing
          : meanFigure(rootScale, mean, offsets, swing);
    }
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
  around: (means, offsets, swing) => {
    let [cosine, sine] = [0, 0];
    let [least, most] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
    for (let k = 0; k < offsets.length; k++) {
      const offset = offsets[k] as number;
      cosine += Math.cos(2 * offset);
      sine += Math.sin(2 * offset);
      least = Math.min(least, offset);
      most = Math.max(most, offset);
    }
    cosine /= offsets.length;
    sine /= offsets.length;
    // cos(a + b) = cos a cos b - sin a sin b, as long as no offset leads out of the bounds.
    for (let at = 0; at < means.length; at++) {
      const mean = means[at] as number;
      means[at] =
        mean + least >= 0 && mean + most <= Math.PI / 2
          ? (1 - swing * (Math.cos(2 * mean) * cosine - Math.sin(2 * mean) * sine)) / 2
          : meanFigure(shareScale, mean, offsets, swing);
    }
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

/** The mean figure over what lies some offsets from a mean, one by one. */
function meanFigure(
  { figure }: MeasuredScale,
  mean: number,
  offsets: Float64Array,
  swing: number,
): number {
  let sum = 0;
  for (let k = 0; k < offsets.length; k++) sum += figure(mean + (offsets[k] as number), swing);
  return sum / offsets.length;
}
