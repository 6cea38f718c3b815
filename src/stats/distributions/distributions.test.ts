import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { tCdf } from '../../../tests/support/t-cdf.ts';
import { chiSquareCdf, chiSquareUpper } from './chi-square-cdf.ts';
import { fCdf, fUpper } from './f-distribution.ts';
import { normalCdf } from './normal-cdf.ts';
import { normalQuantile } from './normal-quantile.ts';
import { tQuantile } from './t-quantile.ts';

const probability = fc.double({ min: 1e-6, max: 1 - 1e-6, noNaN: true });
const df = fc.integer({ min: 1, max: 200 });
const x = fc.double({ min: 0.01, max: 300, noNaN: true });

describe('a quantile leads back to its probability', () => {
  test('normal, far into the tail', () => {
    fc.assert(
      fc.property(fc.double({ min: -300, max: -0.01, noNaN: true }), (exponent) => {
        const p = 10 ** exponent;
        expect(normalCdf(normalQuantile(p)) / p).toBeCloseTo(1, 9);
      }),
    );
  });

  test('t, less closely next to the middle', () => {
    fc.assert(
      fc.property(probability, df, (p, degrees) => {
        const digits = Math.abs(p - 0.5) > 1e-5 ? 10 : 6;
        expect(tCdf(tQuantile(p, degrees), degrees)).toBeCloseTo(p, digits);
      }),
    );
  });
});

describe('the two tails add to 1', () => {
  test('F', () => {
    fc.assert(
      fc.property(x, df, df, (value, d1, d2) => {
        expect(fCdf(value, d1, d2) + fUpper(value, d1, d2)).toBeCloseTo(1, 10);
      }),
    );
  });

  test('chi-square, also with hundreds of degrees of freedom', () => {
    fc.assert(
      fc.property(x, df, (value, degrees) => {
        const total = chiSquareCdf(value, degrees) + chiSquareUpper(value, degrees);
        expect(total).toBeCloseTo(1, 10);
      }),
    );
    expect(chiSquareUpper(2000, 2000) + chiSquareCdf(2000, 2000)).toBeCloseTo(1, 10);
  });
});

test('a squared t is an F with one degree of freedom above', () => {
  fc.assert(
    fc.property(fc.double({ min: 0.1, max: 20, noNaN: true }), df, (value, degrees) => {
      const both = 2 * tCdf(-value, degrees);
      expect(fUpper(value * value, 1, degrees) / both).toBeCloseTo(1, 9);
    }),
  );
});

test('below 0 there is nothing of F and chi-square', () => {
  expect([fCdf(-1, 2, 3), fUpper(-1, 2, 3), fUpper(0, 2, 3)]).toEqual([0, 1, 1]);
  expect([chiSquareCdf(-1, 2), chiSquareUpper(-1, 2), chiSquareUpper(0, 3)]).toEqual([0, 1, 1]);
});

test('refuses what has no finite answer', () => {
  for (const p of [0, 1, -0.1, Number.NaN]) {
    expect(() => normalQuantile(p)).toThrow(RangeError);
    expect(() => tQuantile(p, 3)).toThrow(RangeError);
  }
  expect(() => tQuantile(0.5, 0)).toThrow(RangeError);
  expect(() => tQuantile(1e-300, 0.5)).toThrow(RangeError);
  expect(() => tCdf(Number.NaN, 3)).toThrow(RangeError);
  expect(() => normalCdf(Number.POSITIVE_INFINITY)).toThrow(RangeError);
  expect(() => fCdf(1, 0, 3)).toThrow(RangeError);
  expect(() => fUpper(1, 3, -1)).toThrow(RangeError);
  expect(() => chiSquareCdf(1, 0)).toThrow(RangeError);
  expect(() => chiSquareUpper(1, 1.5)).toThrow(RangeError);
});
