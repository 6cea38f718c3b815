import { Matrix } from 'ml-matrix';
import { expect, it } from 'vitest';
import { symmetricPseudoInverse } from './symmetric-pseudo-inverse.ts';

it('inverts what can be inverted and names the rest', () => {
  const matrix = [2, -2, 0, -2, 2, 0, 0, 0, 5];
  const found = symmetricPseudoInverse(Float64Array.from(matrix), Float64Array.from([2, 2, 5]));
  const a = Matrix.from1DArray(3, 3, matrix);
  expect(found.rank).toBe(2);
  expect(a.mmul(found.inverse).mmul(a).sub(a).norm()).toBeLessThan(1e-13);
  expect(found.nullSpace?.columns).toBe(1);
  expect(found.nullSpace === undefined ? 1 : a.mmul(found.nullSpace).norm()).toBeLessThan(1e-13);
});

it('has nothing to do for no rows', () => {
  expect(symmetricPseudoInverse(new Float64Array(0), new Float64Array(0)).rank).toBe(0);
});
