import { describe, expect, it } from 'vitest';
import { climbAtOnce, climbByCoordinate } from './log-density-peak.ts';

/** -(x - c)' A (x - c) / 2 with A = [[2, 0.6], [0.6, 1]], c = (0.3, -0.2). */
const bowl = (point: Float64Array) => {
  const [u, v] = [(point[0] ?? 0) - 0.3, (point[1] ?? 0) + 0.2];
  return -(2 * u * u + 1.2 * u * v + v * v) / 2;
};

describe('climbAtOnce', () => {
  it('reaches the peak of a quadratic in one step, and tells its curvature', () => {
    const point = Float64Array.of(0, 0);
    const factor = climbAtOnce(bowl, point);
    expect(point[0]).toBeCloseTo(0.3, 10);
    expect(point[1]).toBeCloseTo(-0.2, 10);
    // L of A = L L'.
    expect(factor[0]).toBeCloseTo(Math.sqrt(2), 8);
    expect(factor[2]).toBeCloseTo(0.6 / Math.sqrt(2), 8);
    expect(factor[3]).toBeCloseTo(Math.sqrt(1 - 0.18), 8);
  });

  it('goes no further than 1 at once, and not downhill', () => {
    const far = Float64Array.of(10, -0.2);
    climbAtOnce(bowl, far);
    expect(far[0]).toBeCloseTo(9, 6);
    // Two peaks with a dip between: where the slope leads on, the step does not overshoot below.
    const peaks = (point: Float64Array) => -(((point[0] ?? 0) ** 2 - 1) ** 2);
    const dip = Float64Array.of(0.1);
    const before = peaks(dip);
    climbAtOnce(peaks, dip);
    expect(peaks(dip)).toBeGreaterThan(before);
  });

  it('gives a usable factor where the density does not bend down', () => {
    const ridge = (point: Float64Array) => 0.5 * (point[0] ?? 0) * (point[1] ?? 0);
    const factor = climbAtOnce(ridge, Float64Array.of(1, 1));
    expect(factor.every(Number.isFinite)).toBe(true);
    expect(factor[0]).toBeGreaterThan(0.1);
    expect(factor[3]).toBeGreaterThan(0.05);
  });
});

describe('climbByCoordinate', () => {
  it('comes to the peak, each time round closer', () => {
    const point = Float64Array.of(1.2, -1);
    for (let round = 0; round < 12; round++) {
      const before = bowl(point);
      const gain = climbByCoordinate(bowl, point);
      expect(gain).toBeGreaterThanOrEqual(0);
      expect(bowl(point) - before).toBeCloseTo(gain, 12);
    }
    expect(point[0]).toBeCloseTo(0.3, 6);
    expect(point[1]).toBeCloseTo(-0.2, 6);
  });

  it('stays where every way leads down', () => {
    const point = Float64Array.of(0.3, -0.2);
    climbByCoordinate(bowl, point);
    expect(point[0]).toBeCloseTo(0.3, 12);
  });
});
