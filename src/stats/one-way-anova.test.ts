import { describe, expect, it } from 'vitest';
import { oneWayAnova } from './one-way-anova.ts';

describe('oneWayAnova', () => {
  it('splits the total sum of squares', () => {
    // worked by hand: means 2 and 5, grand mean 3.5, between 2 * 2 * 1.5^2 = 9, within 4
    const anova = oneWayAnova([
      [1, 3],
      [4, 6],
    ]);
    expect(anova?.between).toEqual({ ss: 9, df: 1, ms: 9 });
    expect(anova?.within).toEqual({ ss: 4, df: 2, ms: 2 });
    expect(anova?.f).toBe(4.5);
  });

  it('passes over empty groups', () => {
    expect(oneWayAnova([[1, 3], [], [4, 6]])).toEqual(
      oneWayAnova([
        [1, 3],
        [4, 6],
      ]),
    );
  });

  it('has no F where nothing varies within a group', () => {
    const anova = oneWayAnova([
      [2, 2],
      [5, 5],
    ]);
    expect(anova?.f).toBeUndefined();
    expect(anova?.between.ss).toBe(9);
  });

  it('is absent with one group, or one value a group', () => {
    expect(oneWayAnova([[1, 2, 3]])).toBeUndefined();
    expect(oneWayAnova([[1], [2]])).toBeUndefined();
    expect(oneWayAnova([])).toBeUndefined();
  });

  it('refuses a value that is not finite', () => {
    expect(() => oneWayAnova([[1, Number.NaN], [2]])).toThrow(RangeError);
  });
});
