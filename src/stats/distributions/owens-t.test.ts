import fc from 'fast-check';
import { describe, expect, it, test } from 'vitest';
import { normalCdf } from './normal-cdf.ts';
import { owensT } from './owens-t.ts';

describe("Owen's T function", () => {
  // The six points at which Patefield and Tandy (2000, Journal of Statistical Software 5(5), section 4) try their six
  // methods; values rounded to 15 digits from those in the public tests of numerical libraries.
  test.each([
    [0.0625, 0.25, 3.89119302347014e-2],
    [6.5, 0.4375, 2.00057730485083e-11],
    [7, 0.96875, 6.39906271938987e-13],
    [4.78125, 0.0625, 1.06329748046875e-7],
    [2, 0.5, 8.62507798552151e-3],
    [1, 0.9999975, 6.67418089782286e-2],
  ])('T(%d, %d) of Patefield and Tandy 2000', (h, a, expected) => {
    // Twenty points hold twelve digits even where T itself is of the size of 1e-13.
    expect(Math.abs(owensT(h, a) / expected - 1)).toBeLessThan(1e-12);
  });

  // Owen 1956, Annals of Mathematical Statistics 27:1075-1090, table A, six places; as quoted by the manual of the R
  // package PowerTOST.
  it('T(2.5, 0.75) = 0.002987 in the table of Owen 1956', () => {
    expect(owensT(2.5, 0.75)).toBeCloseTo(0.002987, 6);
  });

  it('has the closed forms that Owen 1956 gives (2.2 to 2.4)', () => {
    for (const a of [0.1, 0.8, 1, 3, 50]) {
      expect(owensT(0, a)).toBeCloseTo(Math.atan(a) / (2 * Math.PI), 14);
    }
    for (const h of [0.2, 1, 2.7]) {
      expect(owensT(h, 1)).toBeCloseTo((normalCdf(h) * normalCdf(-h)) / 2, 14);
      expect(owensT(h, 1e9)).toBeCloseTo(normalCdf(-h) / 2, 14);
      expect(owensT(h, 0)).toBe(0);
      expect(owensT(-h, -0.7)).toBe(-owensT(h, 0.7));
    }
  });

  it('agrees with the chance of its wedge, summed over slices of X by the trapezoid rule', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 5, noNaN: true }),
        fc.double({ min: 0.01, max: 8, noNaN: true }),
        (h, a) => {
          // P(X > h, 0 < Y < a X) = integral of phi(x) (F(a x) - 1 / 2) from h on.
          const steps = 4000;
          const step = 12 / steps;
          let total = 0;
          for (let at = 0; at <= steps; at++) {
            const x = h + at * step;
            const density = Math.exp(-0.5 * x * x) / Math.sqrt(2 * Math.PI);
            const weight = at === 0 || at === steps ? 0.5 : 1;
            total += weight * density * (normalCdf(a * x) - 0.5);
          }
          // The trapezoid rule is off by step^2 / 12 x the slope at the lower end, at most 3.2 of a.
          expect(Math.abs(total * step - owensT(h, a))).toBeLessThan(5e-6);
        },
      ),
      { numRuns: 50 },
    );
  });

  it('refuses what is no number', () => {
    expect(() => owensT(Number.NaN, 1)).toThrow(RangeError);
  });
});
