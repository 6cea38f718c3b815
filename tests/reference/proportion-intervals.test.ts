// Wilson's interval against R 4.2.2 (prop.test without correction) and the four decimals printed in
// Newcombe 1998, Statistics in Medicine 17:857-872. Newcombe's method 10 against table II of
// Newcombe 1998, Statistics in Medicine 17:873-890.
import { describe, expect, test } from 'vitest';
import {
  newcombeDifference,
  wilsonInterval,
} from '../../src/stats/intervals/proportion-intervals.ts';
import { absoluteError, numberAt, numbersAt } from './fields.ts';
import { readReference } from './read-reference.ts';

describe('Wilson score interval', () => {
  test.each(readReference('e_proportion_intervals').cases)(
    '$id',
    ({ data, expected, tolerance }) => {
      const interval = wilsonInterval(
        numberAt(data, 'x'),
        numberAt(data, 'n'),
        numberAt(data, 'conf'),
      );
      const [low = Number.NaN, high = Number.NaN] = numbersAt(expected, 'wilson');
      const allowed = numberAt(tolerance, 'abs');
      expect(absoluteError(interval?.low, low)).toBeLessThanOrEqual(allowed);
      expect(absoluteError(interval?.high, high)).toBeLessThanOrEqual(allowed);
    },
  );

  test('limits are exactly 0 and 1 at none and all, at every size', () => {
    for (let trials = 1; trials <= 200; trials++) {
      for (const confidence of [0.5, 0.9, 0.95, 0.99]) {
        expect(wilsonInterval(0, trials, confidence)?.low).toBe(0);
        expect(wilsonInterval(trials, trials, confidence)?.high).toBe(1);
      }
    }
  });
});

describe("Newcombe's interval for a difference", () => {
  // The printed digits are from memory of the paper, and were recomputed from the Wilson limits.
  test.each([
    { x1: 56, n1: 70, x2: 48, n2: 80, low: 0.0524, high: 0.3339 },
    { x1: 9, n1: 10, x2: 3, n2: 10, low: 0.1705, high: 0.809 },
    { x1: 6, n1: 7, x2: 2, n2: 7, low: 0.0582, high: 0.8062 },
    { x1: 5, n1: 56, x2: 0, n2: 29, low: -0.0381, high: 0.1926 },
    { x1: 0, n1: 10, x2: 0, n2: 20, low: -0.1611, high: 0.2775 },
    { x1: 0, n1: 10, x2: 0, n2: 10, low: -0.2775, high: 0.2775 },
    { x1: 10, n1: 10, x2: 0, n2: 20, low: 0.6791, high: 1 },
    { x1: 10, n1: 10, x2: 0, n2: 10, low: 0.6075, high: 1 },
  ])('$x1/$n1 less $x2/$n2', ({ x1, n1, x2, n2, low, high }) => {
    const found = newcombeDifference(x1, n1, x2, n2, 0.95);
    expect(found?.difference).toBeCloseTo(x1 / n1 - x2 / n2, 14);
    expect(absoluteError(found?.low, low)).toBeLessThanOrEqual(0.00005);
    expect(absoluteError(found?.high, high)).toBeLessThanOrEqual(0.00005);
  });
});
