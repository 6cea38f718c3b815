/**
 * Cholesky factor of a small positive definite matrix, in place: the lower triangle becomes L with A = L L'.
 *
 * For matrices of a few rows inside a loop, where building matrix objects would cost more than the arithmetic.
 * Golub and Van Loan 2013, Matrix Computations, 4th ed., algorithm 4.2.1.
 *
 * @param a size x size, row by row, from an index on; only the lower triangle is read
 */
export function choleskyInPlace(a: Float64Array, size: number, from = 0): void {
  for (let row = 0; row < size; row++) {
    const at = from + row * size;
    for (let column = 0; column <= row; column++) {
      const above = from + column * size;
      let sum = a[at + column] as number;
      for (let k = 0; k < column; k++) sum -= (a[at + k] as number) * (a[above + k] as number);
      if (row > column) a[at + column] = sum / (a[above + column] as number);
      // Rounding can leave a pivot a hair below zero where the matrix is nearly singular.
      else a[at + row] = Math.sqrt(Math.max(sum, Number.MIN_VALUE));
    }
  }
}

/** Solves L x = b in place, L as `choleskyInPlace` leaves it, from an index on. */
export function forwardInPlace(
  factor: Float64Array,
  size: number,
  b: Float64Array,
  from = 0,
): void {
  for (let row = 0; row < size; row++) {
    const at = from + row * size;
    let sum = b[row] as number;
    for (let k = 0; k < row; k++) sum -= (factor[at + k] as number) * (b[k] as number);
    b[row] = sum / (factor[at + row] as number);
  }
}

/** Solves L' x = b in place, L as `choleskyInPlace` leaves it. */
export function backwardInPlace(factor: Float64Array, size: number, b: Float64Array): void {
  for (let row = size - 1; row >= 0; row--) {
    let sum = b[row] as number;
    for (let k = row + 1; k < size; k++) {
      sum -= (factor[k * size + row] as number) * (b[k] as number);
    }
    b[row] = sum / (factor[row * size + row] as number);
  }
}
