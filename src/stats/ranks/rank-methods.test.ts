import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { kendallTauB } from '../../../tests/support/kendall-tau-b.ts';
import { friedman } from './friedman.ts';
import { kendallW } from './kendall-w.ts';
import { midranks, tieSum } from './rank-table.ts';

const score = fc.integer({ min: 1, max: 10 });
const table = fc
  .integer({ min: 2, max: 5 })
  .chain((k) =>
    fc.array(fc.array(score, { minLength: k, maxLength: k }), { minLength: 2, maxLength: 8 }),
  );

describe('midranks', () => {
  it('sum to n (n + 1) / 2, keep the order and give equal values equal ranks', () => {
    fc.assert(
      fc.property(fc.array(score), (values) => {
        const ranks = midranks(values);
        const n = values.length;
        expect(ranks.reduce((sum, rank) => sum + rank, 0)).toBe((n * (n + 1)) / 2);
        values.forEach((value, i) => {
          values.forEach((other, j) => {
            expect(Math.sign((ranks[i] ?? 0) - (ranks[j] ?? 0))).toBe(Math.sign(value - other));
          });
        });
      }),
    );
    expect(() => midranks([1, Number.NaN])).toThrow(RangeError);
  });

  it('lose (t^3 - t) / 12 of their sum of squares to each tie', () => {
    fc.assert(
      fc.property(fc.array(score, { minLength: 1 }), (values) => {
        const n = values.length;
        const squares = midranks(values).reduce((sum, rank) => sum + (rank - (n + 1) / 2) ** 2, 0);
        expect(squares).toBeCloseTo((n ** 3 - n - tieSum(values)) / 12, 8);
      }),
    );
  });
});

describe('friedman and kendallW', () => {
  it('do not care about blocks in another order, nor about any rising change of a block', () => {
    fc.assert(
      fc.property(table, (values) => {
        const changed = values.map((block) => block.map((value) => value ** 3 - 7)).reverse();
        expect(friedman(changed)?.chiSquare).toBe(friedman(values)?.chiSquare);
      }),
    );
  });

  it('keep W between 0 and 1, with the mean of Spearman over all pairs when nothing ties', () => {
    const permuted = fc.shuffledSubarray([1, 2, 3, 4, 5], { minLength: 5 });
    fc.assert(
      fc.property(fc.array(permuted, { minLength: 2, maxLength: 6 }), (values) => {
        const result = kendallW(values);
        // Spearman 1904 for 5 without ties: 1 - 6 sum d^2 / (n^3 - n).
        const pairs = values.flatMap((one, i) =>
          values.slice(0, i).map((other) => {
            const squares = one.map((value, at) => (value - (other[at] ?? Number.NaN)) ** 2);
            return 1 - squares.reduce((sum, square) => sum + square, 0) / 20;
          }),
        );
        const mean = pairs.reduce((sum, rho) => sum + rho, 0) / pairs.length;
        expect(result?.meanSpearman).toBeCloseTo(mean, 10);
        expect(result?.w).toBeGreaterThanOrEqual(0);
        expect(result?.w).toBeLessThanOrEqual(1 + 1e-12);
      }),
    );
  });

  it('say 1 at full agreement, where F has no bound, and nothing where all is tied', () => {
    const agreed = [
      [1, 2, 3],
      [4, 5, 6],
      [1, 5, 9],
    ];
    expect(kendallW(agreed)?.w).toBeCloseTo(1, 14);
    expect(friedman(agreed)?.fTest).toBeUndefined();
    expect(
      friedman([
        [2, 2],
        [3, 3],
      ]),
    ).toBeUndefined();
    expect(friedman([])).toBeUndefined();
    expect(friedman([[1, 2]])?.fTest).toBeUndefined();
    expect(kendallW([[1, 2]])?.meanSpearman).toBeUndefined();
    expect(() => friedman([[1, 2], [1]])).toThrow(RangeError);
  });
});

describe('kendallTauB', () => {
  const lists = fc
    .integer({ min: 3, max: 7 })
    .chain((n) =>
      fc.tuple(
        fc.array(score, { minLength: n, maxLength: n }),
        fc.array(score, { minLength: n, maxLength: n }),
      ),
    );

  it('turns its sign when one list is turned round, and does not care which list is which', () => {
    fc.assert(
      fc.property(lists, ([x, y]) => {
        const turned = y.map((value) => -value);
        const given = kendallTauB(x, y);
        if (given === undefined) return;
        expect(kendallTauB(x, turned)?.coefficient).toBeCloseTo(-given.coefficient, 12);
        expect(kendallTauB(x, turned)?.p).toBeCloseTo(given.p, 9);
        expect(kendallTauB(y, x)?.coefficient).toBeCloseTo(given.coefficient, 12);
        expect(given.p).toBeGreaterThan(0);
        expect(given.p).toBeLessThanOrEqual(1);
      }),
    );
  });

  it('gives the least p there is at full agreement', () => {
    const rising = [1, 2, 3, 4, 5];
    // 2 of 5! orders are as extreme.
    expect(kendallTauB(rising, rising)?.p).toBeCloseTo(2 / 120, 14);
    expect(kendallTauB([1, 1], [1, 2])).toBeUndefined();
    expect(() => kendallTauB([1], [1, 2])).toThrow(RangeError);
  });
});
