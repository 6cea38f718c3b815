import { expect, it } from 'vitest';
import { sequentialAnova } from './sequential-anova.ts';

it('the terms and the residual make up the total, whatever the layout', () => {
  const y = [4, 7, 1, 9, 3, 6, 8, 2];
  const anova = sequentialAnova(y, [
    { levels: [0, 0, 0, 1, 1, 1, 2, 2], count: 3 },
    { levels: [0, 1, 1, 0, 0, 1, 1, 0], count: 2 },
  ]);
  const parts = [...(anova?.terms ?? []), anova?.residual];
  // worked by hand: sum 40, sum of squares 260, total 260 - 40^2 / 8 = 60 on 7
  expect(parts.reduce((total, part) => total + (part?.ss ?? 0), 0)).toBeCloseTo(60, 10);
  expect(parts.reduce((total, part) => total + (part?.df ?? 0), 0)).toBe(7);
});

it('a term that adds nothing has no test', () => {
  const same = { levels: [0, 0, 1, 1], count: 2 };
  const anova = sequentialAnova([1, 2, 3, 5], [same, same]);
  expect(anova?.terms[1]?.df).toBe(0);
  expect(anova?.terms[1]?.f).toBeUndefined();
});

it('is absent without residual degrees of freedom', () => {
  expect(sequentialAnova([1, 2], [{ levels: [0, 1], count: 2 }])).toBeUndefined();
});
