import { expect, it } from 'vitest';
import { factorInterval } from './factor-interval.ts';

it('is the figure times and by exp(t sd / sqrt n)', () => {
  // t at 97.5 % on 10 degrees of freedom is 2.228139 (tables of Student's t).
  const { low, high } = factorInterval(40, { sd: 0.3, units: 4, df: 10 }, 0.95);
  expect(high).toBeCloseTo(40 * Math.exp(2.228139 * 0.15), 4);
  expect(low * high).toBeCloseTo(1600, 8);
});

it('stays above nothing, however few the degrees of freedom', () => {
  const { low } = factorInterval(2, { sd: 1.5, units: 1, df: 1 }, 0.95);
  expect(low).toBeGreaterThan(0);
});
