import { expect, it } from 'vitest';
import { bracketedRoot } from './bracketed-root.ts';

it('finds the root of a smooth, a flat and a stepped function', () => {
  expect(bracketedRoot((x) => x * x - 2, 0, 2, 1e-15)).toBeCloseTo(Math.SQRT2, 14);
  expect(bracketedRoot((x) => (x - 1) ** 9, -4, 3, 1e-9)).toBeCloseTo(1, 6);
  expect(bracketedRoot((x) => (x < 0.25 ? -1 : 1), 0, 1, 1e-12)).toBeCloseTo(0.25, 11);
});

it('takes an end that is a root', () => {
  expect(bracketedRoot((x) => x, 0, 1, 1e-12)).toBeCloseTo(0, 12);
});

it('refuses ends of one sign', () => {
  expect(() => bracketedRoot((x) => x * x + 1, -1, 1, 1e-12)).toThrow(RangeError);
});
