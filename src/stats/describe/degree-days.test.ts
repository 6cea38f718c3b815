import fc from 'fast-check';
import { expect, test } from 'vitest';
import { type DegreeDayOptions, degreeDays } from './degree-days.ts';

type Method = DegreeDayOptions['method'];

const methods: readonly Method[] = ['mean', 'cut', 'sine'];
const day = fc
  .tuple(fc.integer({ min: -200, max: 400 }), fc.integer({ min: 0, max: 250 }))
  .map(([low, range]) => [low / 10, (low + range) / 10] as const);

test('inside the limits the three methods agree', () => {
  for (const method of methods) {
    expect(degreeDays(12, 24, { base: 10, upper: 30, method })).toBeCloseTo(8, 12);
  }
});

test('never negative, never above upper less base, and never less on a warmer day', () => {
  fc.assert(
    fc.property(day, fc.constantFrom(...methods), ([tmin, tmax], method) => {
      const limits = { base: 10, upper: 30, method };
      const found = degreeDays(tmin, tmax, limits);
      expect(found).toBeGreaterThanOrEqual(0);
      expect(found).toBeLessThanOrEqual(20 + 1e-12);
      expect(degreeDays(tmin + 1, tmax + 1, limits)).toBeGreaterThanOrEqual(found - 1e-12);
    }),
  );
});

test('the sine lies between method 1 and method 2 where there is a base alone', () => {
  fc.assert(
    fc.property(day, ([tmin, tmax]) => {
      const by = (method: Method): number => degreeDays(tmin, tmax, { base: 10, method });
      expect(by('sine')).toBeGreaterThanOrEqual(by('mean') - 1e-12);
      expect(by('sine')).toBeLessThanOrEqual(by('cut') + 1e-12);
    }),
  );
});

test('the sine agrees with adding up the day in small steps', () => {
  fc.assert(
    fc.property(day, ([tmin, tmax]) => {
      const steps = 20_000;
      let area = 0;
      for (let step = 0; step < steps; step++) {
        const phase = (2 * Math.PI * (step + 0.5)) / steps;
        const degrees = (tmin + tmax) / 2 + ((tmax - tmin) / 2) * Math.sin(phase);
        area += Math.max(0, Math.min(degrees, 30) - 10) / steps;
      }
      const found = degreeDays(tmin, tmax, { base: 10, upper: 30, method: 'sine' });
      expect(Math.abs(found - area)).toBeLessThan(1e-5);
    }),
    { numRuns: 50 },
  );
});

test('refuses days and limits that cannot be', () => {
  for (const method of methods) {
    expect(() => degreeDays(9, 8, { base: 10, method })).toThrow(RangeError);
    expect(() => degreeDays(8, 9, { base: 10, upper: 10, method })).toThrow(RangeError);
    expect(() => degreeDays(Number.NaN, 9, { base: 10, method })).toThrow(RangeError);
    expect(() => degreeDays(8, 9, { base: 10, upper: Number.NaN, method })).toThrow(RangeError);
  }
});
