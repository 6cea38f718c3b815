import fc from 'fast-check';
import { expect, test } from 'vitest';
import { normalQuantile } from '../distributions/normal-quantile.ts';
import { newcombeDifference, wilsonInterval } from './proportion-intervals.ts';

const counts = fc
  .tuple(fc.integer({ min: 1, max: 3000 }), fc.double({ min: 0, max: 1, noNaN: true }))
  .map(([trials, share]) => [Math.round(share * trials), trials] as const);

test('each limit solves the score equation that defines it', () => {
  fc.assert(
    fc.property(counts, fc.constantFrom(0.8, 0.95, 0.99), ([successes, trials], confidence) => {
      const z = normalQuantile((1 + confidence) / 2);
      const { low = -1, high = -1 } = wilsonInterval(successes, trials, confidence) ?? {};
      for (const limit of [low, high]) {
        const reach = z * Math.sqrt((limit * (1 - limit)) / trials);
        expect(Math.abs(Math.abs(successes / trials - limit) - reach)).toBeLessThan(1e-8);
      }
      expect(low).toBeLessThanOrEqual(successes / trials);
      expect(high).toBeGreaterThanOrEqual(successes / trials);
    }),
  );
});

test('failures mirror successes', () => {
  fc.assert(
    fc.property(counts, ([successes, trials]) => {
      const hits = wilsonInterval(successes, trials, 0.95);
      const misses = wilsonInterval(trials - successes, trials, 0.95);
      expect(misses?.low).toBeCloseTo(1 - (hits?.high ?? Number.NaN), 13);
      expect(misses?.high).toBeCloseTo(1 - (hits?.low ?? Number.NaN), 13);
    }),
  );
});

test('a difference turns its sign when the groups change places, and stays within -1 and 1', () => {
  fc.assert(
    fc.property(counts, counts, ([x1, n1], [x2, n2]) => {
      const found = newcombeDifference(x1, n1, x2, n2, 0.95);
      const turned = newcombeDifference(x2, n2, x1, n1, 0.95);
      if (found === undefined || turned === undefined) throw new TypeError('no difference');
      expect(turned.difference).toBeCloseTo(-found.difference, 13);
      expect(turned.low).toBeCloseTo(-found.high, 13);
      expect(turned.high).toBeCloseTo(-found.low, 13);
      expect(found.low).toBeGreaterThanOrEqual(-1);
      expect(found.high).toBeLessThanOrEqual(1);
      expect(found.low).toBeLessThanOrEqual(found.difference);
      expect(found.high).toBeGreaterThanOrEqual(found.difference);
    }),
  );
});

test('no trials give no interval', () => {
  expect(wilsonInterval(0, 0, 0.95)).toBeUndefined();
  expect(newcombeDifference(1, 2, 0, 0, 0.95)).toBeUndefined();
  expect(newcombeDifference(0, 0, 1, 2, 0.95)).toBeUndefined();
});

test('refuses counts and a confidence that cannot be', () => {
  expect(() => wilsonInterval(3, 2, 0.95)).toThrow(RangeError);
  expect(() => wilsonInterval(-1, 2, 0.95)).toThrow(RangeError);
  expect(() => wilsonInterval(0.5, 2, 0.95)).toThrow(RangeError);
  expect(() => wilsonInterval(Number.NaN, 2, 0.95)).toThrow(RangeError);
  expect(() => wilsonInterval(1, 2, 95)).toThrow(RangeError);
  expect(() => newcombeDifference(1, 2, 3, 2, 0.95)).toThrow(RangeError);
});
