import { expect, it } from 'vitest';
import { leastSignificantDifference } from './least-significant-difference.ts';

it('grows with the standard error and with fewer degrees of freedom', () => {
  expect(leastSignificantDifference(2, 10, 0.05)).toBe(2 * leastSignificantDifference(1, 10, 0.05));
  expect(leastSignificantDifference(1, 3, 0.05)).toBeGreaterThan(
    leastSignificantDifference(1, 4, 0.05),
  );
});

it('refuses a negative standard error and an alpha of 0', () => {
  expect(() => leastSignificantDifference(-1, 10, 0.05)).toThrow(RangeError);
  expect(() => leastSignificantDifference(1, 10, 0)).toThrow(RangeError);
});
