import { expect, test } from 'vitest';
import { power } from './power.ts';

test('roots, to the last digits of a double', () => {
  for (const root of [1e-6, 0.1, 0.75, 1, 3, 12345.678, 1e50]) {
    for (const degree of [2, 3, 5]) {
      let product = 1;
      for (let i = 0; i < degree; i++) product *= root;
      const error = Math.abs(power(product, 1 / degree) / root - 1);
      // The logarithm is right to half a unit of its last digit, and a power multiplies its error.
      expect(error).toBeLessThan(2 ** -52 * (2 + Math.abs(Math.log(root))));
    }
  }
});

test('a root of nothing is nothing, a power of one is one', () => {
  expect(power(0, 0.5)).toBe(0);
  expect(power(1, 1 / 3)).toBe(1);
});
