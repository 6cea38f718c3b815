import { CholeskyDecomposition, Matrix } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import { backwardInPlace, choleskyInPlace, forwardInPlace } from './cholesky-in-place.ts';

const rows = [
  [4, 2, 0.6],
  [2, 5, 1],
  [0.6, 1, 3],
];

describe('choleskyInPlace', () => {
  it('gives the factor that ml-matrix gives', () => {
    const a = Float64Array.from(rows.flat());
    choleskyInPlace(a, 3);
    const expected = new CholeskyDecomposition(new Matrix(rows)).lowerTriangularMatrix;
    for (const [row, column] of [
      [0, 0],
      [1, 0],
      [1, 1],
      [2, 0],
      [2, 1],
      [2, 2],
    ] as const) {
      expect(a[row * 3 + column]).toBeCloseTo(expected.get(row, column), 14);
    }
  });

  it('solves a system by a forward and a backward pass', () => {
    const a = Float64Array.from(rows.flat());
    choleskyInPlace(a, 3);
    const x = Float64Array.from([1, -2, 0.5]);
    forwardInPlace(a, 3, x);
    backwardInPlace(a, 3, x);
    const back = new Matrix(rows).mmul(Matrix.columnVector([...x])).to1DArray();
    [1, -2, 0.5].forEach((value, k) => {
      expect(back[k]).toBeCloseTo(value, 12);
    });
  });

  it('stays finite on a singular matrix', () => {
    const a = Float64Array.from([1, 1, 1, 1]);
    choleskyInPlace(a, 2);
    expect([...a].every(Number.isFinite)).toBe(true);
  });
});
