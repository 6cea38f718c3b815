import { expect, it } from 'vitest';
import { neighbours } from './neighbours.ts';

it('leaves little of the truth open however many gardens share its draws', () => {
  const { truth } = neighbours(
    {
      name: 'many',
      gardens: 20,
      choice: 8,
      liking: 0.6,
      widths: 0.25,
      sizes: [6, 6],
      seasons: 1,
    },
    7,
  );
  // Drawn anew each time: what two truths differ by is what both leave open.
  const [one, other] = [truth().middle, truth().middle];
  const squares = one.flatMap((value, at) =>
    Number.isNaN(value) ? [] : [(value - (other[at] as number)) ** 2],
  );
  expect(squares.length).toBeGreaterThan(5);
  const error = Math.sqrt(squares.reduce((sum, square) => sum + square, 0) / squares.length / 2);
  // Intervals of the middle are some 1.2 points wide or more.
  expect(error).toBeLessThan(0.04);
});
