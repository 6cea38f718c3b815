import { describe, expect, it } from 'vitest';
import {
  logScale,
  type MeasuredScale,
  rateFigure,
  rootScale,
  shareFigure,
  shareScale,
  sizeFigure,
} from './measured-scale.ts';

/** Mean of a function of a normal value, by the trapezoidal rule. */
function normalMean(of: (value: number) => number, mean: number, variance: number): number {
  let [sum, total] = [0, 0];
  for (let z = -8; z <= 8; z += 0.01) {
    const density = Math.exp(-(z * z) / 2);
    sum += density * of(mean + Math.sqrt(variance) * z);
    total += density;
  }
  return sum / total;
}

describe('measured scales', () => {
  const scales: [string, MeasuredScale, (value: number) => number, number][] = [
    ['log', logScale, Math.exp, 3.6],
    ['root', rootScale, (value) => value * value, 1.4],
    ['share', shareScale, (value) => Math.sin(value) ** 2, 1.1],
  ];
  it.each(scales)(
    '%s: the expectation is the integral over the normal density',
    (_name, scale, back, mean) => {
      for (const variance of [0, 0.01, 0.08]) {
        expect(scale.figure(mean, scale.swing(variance))).toBeCloseTo(
          normalMean(back, mean, variance),
          8,
        );
      }
    },
  );

  it.each(scales)('%s: the mean over offsets is the mean of the figures', (_name, scale) => {
    // The last two reach out of the bounds of shares and roots.
    for (const mean of [0.4, 1.1, 1.5, 0.05]) {
      for (const offsets of [[0], [-0.2, 0.1, 0.1], [-0.1, 0.3, 0, -0.2]]) {
        for (const swing of [0.02, 0.9]) {
          const plain = offsets.map((offset) => scale.figure(mean + offset, swing));
          const expected = plain.reduce((sum, value) => sum + value, 0) / plain.length;
          const means = Float64Array.of(mean);
          scale.around(means, Float64Array.from(offsets), swing);
          expect(means[0]).toBeCloseTo(expected, 13);
        }
      }
    }
  });

  it('keeps shares and rates inside their bounds however far a draw strays', () => {
    expect(shareScale.figure(3, shareScale.swing(0))).toBeCloseTo(1, 12);
    expect(shareScale.figure(-1, shareScale.swing(0))).toBe(0);
    expect(rootScale.figure(-1, rootScale.swing(0.1))).toBeCloseTo(0.1, 12);
  });
});

describe('shareFigure', () => {
  it('is right on average over the binomial distribution, with the variance it claims', () => {
    for (const [share, of] of [
      [0.5, 10],
      [0.8, 20],
      [0.9, 40],
    ] as const) {
      let [mean, square, chance] = [0, 0, (1 - share) ** of];
      for (let count = 0; count <= of; count++) {
        const { value } = shareFigure(count, of);
        mean += chance * value;
        square += chance * value * value;
        chance *= ((of - count) / (count + 1)) * (share / (1 - share));
      }
      const variance = square - mean * mean;
      expect(Math.abs(mean - Math.asin(Math.sqrt(share)))).toBeLessThan(0.006);
      expect(variance / shareFigure(0, of).variance).toBeGreaterThan(0.85);
      expect(variance / shareFigure(0, of).variance).toBeLessThan(1.2);
    }
  });

  it('refuses what is not a share', () => {
    expect(() => shareFigure(3, 2)).toThrow(RangeError);
    expect(() => shareFigure(0, 0)).toThrow(RangeError);
  });
});

describe('rateFigure', () => {
  it('is right on average over the Poisson distribution, with the variance it claims', () => {
    for (const [rate, units] of [
      [2, 3],
      [1, 8],
      [3, 10],
    ] as const) {
      let [mean, square, chance] = [0, 0, Math.exp(-rate * units)];
      for (let count = 0; count < 200; count++) {
        const { value } = rateFigure(count, units);
        mean += chance * value;
        square += chance * value * value;
        chance *= (rate * units) / (count + 1);
      }
      expect(Math.abs(mean - Math.sqrt(rate))).toBeLessThan(0.006);
      expect(Math.abs((square - mean * mean) / rateFigure(0, units).variance - 1)).toBeLessThan(
        0.15,
      );
    }
  });

  it('refuses what is not a rate', () => {
    expect(() => rateFigure(-1, 2)).toThrow(RangeError);
    expect(() => rateFigure(1, 0)).toThrow(RangeError);
  });
});

describe('sizeFigure', () => {
  it('takes the variance along in proportion', () => {
    expect(sizeFigure(50, 25)).toEqual({ value: Math.log(50), variance: 0.01 });
  });

  it('refuses a size of nothing', () => {
    expect(() => sizeFigure(0, 1)).toThrow(RangeError);
  });
});
