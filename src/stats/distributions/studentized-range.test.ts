import { describe, expect, it } from 'vitest';
import {
  studentizedRangeQuantile,
  studentizedRangeTail,
  studentizedRangeUpper,
} from './studentized-range.ts';

describe('studentized range', () => {
  it('falls from 1 to 0 as q grows', () => {
    const tail = studentizedRangeTail(5, 7);
    expect(tail(0)).toBe(1);
    expect(tail(Number.POSITIVE_INFINITY)).toBe(0);
    for (let q = 0.25; q < 40; q += 0.25) expect(tail(q)).toBeLessThan(tail(q - 0.25));
  });

  it('quantile and upper tail undo each other for many groups too', () => {
    for (const groups of [2, 30, 300]) {
      for (const df of [1, 2, 25, 3000, Number.POSITIVE_INFINITY]) {
        const q = studentizedRangeQuantile(0.95, groups, df);
        expect(studentizedRangeUpper(q, groups, df)).toBeCloseTo(0.05, 10);
      }
    }
  });

  it('refuses what is outside its bounds', () => {
    expect(() => studentizedRangeUpper(3, 1, 10)).toThrow(RangeError);
    expect(() => studentizedRangeUpper(3, 2.5, 10)).toThrow(RangeError);
    expect(() => studentizedRangeUpper(3, 3, 0)).toThrow(RangeError);
    expect(() => studentizedRangeUpper(Number.NaN, 3, 10)).toThrow(RangeError);
    expect(() => studentizedRangeQuantile(1, 3, 10)).toThrow(RangeError);
  });
});
