import { expect, it } from 'vitest';
import { fQuantile } from './f-distribution.ts';

it('turns over when the degrees of freedom are exchanged', () => {
  for (const p of [0.001, 0.2, 0.5, 0.9]) {
    expect(fQuantile(p, 3, 8) * fQuantile(1 - p, 8, 3)).toBeCloseTo(1, 9);
  }
});

it('refuses what is outside its bounds', () => {
  expect(() => fQuantile(0, 3, 8)).toThrow(RangeError);
  expect(() => fQuantile(0.5, 0, 8)).toThrow(RangeError);
});
