import { floatAt } from '../numbers/number-at.ts';
import { power } from '../numbers/power.ts';

/** Sums of geometric means of worths over the subsets of one size. */
export type TiedSubsets = {
  /** Over all subsets of the size. */
  readonly all: number;
  /** By item: over the subsets that hold it. */
  readonly holding: Float64Array;
  /**
   * For items i < j, at i * (number of items) + j: over the subsets that hold both. Elsewhere
   * meaningless.
   */
  readonly holdingBoth: Float64Array;
};

/**
 * Sums, over all subsets of `size` items, of the geometric mean of their worths: what ties of that
 * size add to the total worth of a choice in the Davidson-Luce model (Turner, van Etten, Firth and
 * Kosmidis 2020, Computational Statistics 35:1027-1057).
 *
 * Method: the sums are elementary symmetric polynomials of worth^(1/size), built up item by item
 * from both ends. Only positive terms are added, so nothing cancels; time grows with items^2 times
 * size, not with the number of subsets.
 *
 * @param mostItems the most worths a call will bring
 * @param mostTied the greatest size a call will ask for
 * @returns a function of worths, how many of them count (the first `items`), and a size of 1 to
 *   `items`; what it returns is good until the next call
 * @example tiedSubsets(3, 2)(Float64Array.of(1, 4, 9), 3, 2).all // => 11
 */
export function tiedSubsets(
  mostItems: number,
  mostTied: number,
): (worths: Float64Array, items: number, size: number) => TiedSubsets {
  const width = mostTied + 1;
  const roots = new Float64Array(mostItems);
  const after = new Float64Array((mostItems + 1) * width);
  const before = new Float64Array(width);
  const between = new Float64Array(width);
  const holding = new Float64Array(mostItems);
  const holdingBoth = new Float64Array(mostItems * mostItems);
  return (worths, items, size) => {
    for (let i = 0; i < items; i++) {
      const worth = floatAt(worths, i);
      roots[i] = size === 1 ? worth : power(worth, 1 / size);
    }
    fillAfter(after, roots, items, size, width);
    before.fill(0);
    before[0] = 1;
    for (let i = 0; i < items; i++) {
      const root = floatAt(roots, i);
      holding[i] = root * coefficient(before, after, (i + 1) * width, size - 1);
      if (size > 1) {
        between.set(before);
        for (let j = i + 1; j < items; j++) {
          const other = floatAt(roots, j);
          const rest = coefficient(between, after, (j + 1) * width, size - 2);
          holdingBoth[i * items + j] = root * other * rest;
          timesOnePlus(between, other, size);
        }
      }
      timesOnePlus(before, root, size);
    }
    return { all: floatAt(before, size), holding, holdingBoth };
  };
}

/**
 * For each place, in a row of `width`, the product of (1 + root z) over the roots from there on.
 */
function fillAfter(
  after: Float64Array,
  roots: Float64Array,
  items: number,
  degree: number,
  width: number,
): void {
  const end = items * width;
  after.fill(0, end, end + width);
  after[end] = 1;
  for (let i = items - 1; i >= 0; i--) {
    const row = i * width;
    const root = floatAt(roots, i);
    after[row] = 1;
    for (let power = 1; power <= degree; power++) {
      const here = row + width + power;
      after[row + power] = floatAt(after, here) + root * floatAt(after, here - 1);
    }
  }
}

/** Multiplies a polynomial by (1 + root z) in place, up to a degree. */
function timesOnePlus(polynomial: Float64Array, root: number, degree: number): void {
  for (let power = degree; power > 0; power--) {
    polynomial[power] = floatAt(polynomial, power) + root * floatAt(polynomial, power - 1);
  }
}

/** The coefficient of one power in the product of a polynomial and the one that starts at `row`. */
function coefficient(one: Float64Array, rows: Float64Array, row: number, power: number): number {
  let sum = 0;
  for (let i = 0; i <= power; i++) sum += floatAt(one, i) * floatAt(rows, row + power - i);
  return sum;
}
