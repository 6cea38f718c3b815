import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { durbin } from './durbin.ts';
import { friedman } from './friedman.ts';
import { kendallTauB } from './kendall-tau-b.ts';
import { kendallW } from './kendall-w.ts';
import { matchingSums } from './matching-sums.ts';
import { midranks } from './midranks.ts';
import { pageTrend } from './page-trend.ts';
import { skillingsMack } from './skillings-mack.ts';
import { spearman } from './spearman.ts';
import { tieSum } from './tie-sum.ts';

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
        const pairs = values.flatMap((one, i) =>
          values.slice(0, i).map((other) => spearman(one, other)?.coefficient ?? Number.NaN),
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

describe('skillingsMack', () => {
  it('is Friedman’s test without ties and missing values', () => {
    const permuted = fc.shuffledSubarray([1, 2, 3, 4], { minLength: 4 });
    fc.assert(
      fc.property(fc.array(permuted, { minLength: 2, maxLength: 6 }), (values) => {
        const [one, other] = [skillingsMack(values), friedman(values)];
        expect(one?.chiSquare).toBeCloseTo(other?.chiSquare ?? Number.NaN, 9);
        expect(one?.p).toBeCloseTo(other?.p ?? Number.NaN, 9);
      }),
    );
  });

  it('leaves out blocks of one and counts groups that never meet apart', () => {
    const no = undefined;
    const blocks = [
      [1, 2, no, no],
      [2, 1, no, no],
      [1, 2, no, no],
      [no, no, 1, 2],
      [no, no, no, 5],
    ];
    const test = skillingsMack(blocks);
    expect([test?.blocks, test?.df]).toEqual([4, 2]);
    // Two sign tests side by side: (2 - 1)^2 / 3 + 1.
    expect(test?.chiSquare).toBeCloseTo(4 / 3, 10);
    expect(skillingsMack([[1, no]])).toBeUndefined();
  });
});

describe('durbin', () => {
  it('is Friedman’s test when every block has everything, ties and all', () => {
    fc.assert(
      fc.property(table, (values) => {
        const [one, other] = [durbin(values), friedman(values)];
        if (other === undefined) expect(one).toBeUndefined();
        else {
          expect(one?.chiSquare).toBeCloseTo(other.chiSquare, 9);
          if (other.fTest !== undefined) expect(one?.fTest?.f).toBeCloseTo(other.fTest.f, 6);
        }
      }),
    );
  });

  it('refuses blocks that are not balanced', () => {
    const no = undefined;
    expect(
      durbin([
        [1, 2, no],
        [no, 1, 2],
      ]),
    ).toBeUndefined();
    expect(
      durbin([
        [1, 2, no],
        [no, 1, 2],
        [2, no, 1],
      ]),
    ).toBeDefined();
    expect(
      durbin([
        [1, 2, 3],
        [no, 1, 2],
      ]),
    ).toBeUndefined();
    expect(durbin([])).toBeUndefined();
  });
});

describe('spearman and kendallTauB', () => {
  const lists = fc
    .integer({ min: 3, max: 7 })
    .chain((n) =>
      fc.tuple(
        fc.array(score, { minLength: n, maxLength: n }),
        fc.array(score, { minLength: n, maxLength: n }),
      ),
    );

  it('turn their sign when one list is turned round, and do not care which list is which', () => {
    fc.assert(
      fc.property(lists, ([x, y]) => {
        const turned = y.map((value) => -value);
        for (const correlation of [spearman, kendallTauB]) {
          const given = correlation(x, y);
          if (given === undefined) continue;
          expect(correlation(x, turned)?.coefficient).toBeCloseTo(-given.coefficient, 12);
          expect(correlation(x, turned)?.p).toBeCloseTo(given.p, 9);
          expect(correlation(y, x)?.coefficient).toBeCloseTo(given.coefficient, 12);
          expect(given.p).toBeGreaterThan(0);
          expect(given.p).toBeLessThanOrEqual(1);
        }
      }),
    );
  });

  it('give the least p there is at full agreement', () => {
    const rising = [1, 2, 3, 4, 5];
    // 2 of 5! orders are as extreme.
    expect(spearman(rising, rising)?.p).toBeCloseTo(2 / 120, 14);
    expect(kendallTauB(rising, rising)?.p).toBeCloseTo(2 / 120, 14);
    expect(spearman([1, 1, 1], [1, 2, 3])).toBeUndefined();
    expect(kendallTauB([1, 1], [1, 2])).toBeUndefined();
    expect(() => spearman([1], [1, 2])).toThrow(RangeError);
  });
});

describe('matchingSums', () => {
  it('counts every one of the n! pairings', () => {
    fc.assert(
      fc.property(fc.array(score, { minLength: 1, maxLength: 6 }), (values) => {
        const weights = values.map((_, i) => i + 1);
        const counts = new Map<number, number>();
        const place = (sum: number, at: number, rest: readonly number[]): void => {
          if (rest.length === 0) counts.set(sum, (counts.get(sum) ?? 0) + 1);
          rest.forEach((value, i) => {
            place(sum + (weights[at] ?? 0) * value, at + 1, rest.toSpliced(i, 1));
          });
        };
        place(0, 0, values);
        expect([...matchingSums(weights, values)]).toEqual([...counts].sort(([a], [b]) => a - b));
      }),
      { numRuns: 50 },
    );
  });
});

describe('pageTrend', () => {
  it('has two tails that overlap only in the value itself', () => {
    fc.assert(
      fc.property(table, (values) => {
        const rising = pageTrend(values);
        if (rising === undefined) return;
        const falling = pageTrend(values.map((block) => [...block].reverse()));
        // Reversed columns give 2 E - L, so the tails cover everything and share the chance of L.
        expect((falling?.l ?? 0) + rising.l).toBeCloseTo(2 * rising.expected, 9);
        expect(rising.p + (falling?.p ?? 0)).toBeGreaterThanOrEqual(1 - 1e-9);
        expect(rising.p).toBeGreaterThan(0);
      }),
    );
    expect(
      pageTrend([
        [1, 1],
        [2, 2],
      ]),
    ).toBeUndefined();
  });
});
