import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { plackettLuce } from './plackett-luce.ts';
import { quasiVariances } from './quasi-variances.ts';

const loading = fc.double({ min: -2, max: 2, noNaN: true });
/** Covariances A A' + diagonal, positive definite. */
const covariances = (size: number) =>
  fc
    .tuple(
      fc.array(fc.array(loading, { minLength: 2, maxLength: 2 }), {
        minLength: size,
        maxLength: size,
      }),
      fc.array(fc.double({ min: 0.2, max: 3, noNaN: true }), { minLength: size, maxLength: size }),
    )
    .map(([rows, own]) =>
      rows.map((row, i) =>
        rows.map((other, j) => {
          const shared = row.reduce((sum, value, k) => sum + value * (other[k] ?? 0), 0);
          return shared + (i === j ? (own[i] ?? 0) : 0);
        }),
      ),
    );

function differenceVariance(covariance: readonly (readonly number[])[], i: number, j: number) {
  const entry = (row: number, column: number) => covariance[row]?.[column] ?? Number.NaN;
  return entry(i, i) + entry(j, j) - 2 * entry(i, j);
}

describe('quasiVariances', () => {
  it('is exact for three items', () => {
    fc.assert(
      fc.property(covariances(3), (covariance) => {
        const { variances = [], contrasts } = quasiVariances(covariance) ?? {};
        for (const [i, j] of [
          [0, 1],
          [0, 2],
          [1, 2],
        ] as const) {
          const sum = (variances[i] ?? 0) + (variances[j] ?? 0);
          expect(sum / differenceVariance(covariance, i, j)).toBeCloseTo(1, 9);
        }
        expect(contrasts?.lowest).toBeCloseTo(0, 6);
        expect(contrasts?.highest).toBeCloseTo(0, 6);
      }),
    );
  });

  it('gives back independent variances, however a reference item hides them', () => {
    const own = [1, 0.5, 2, 0.1, 3];
    // Estimates told as differences from the last item: var = own_i + own_last, cov = own_last.
    const covariance = own.map((variance, i) =>
      own.map((_, j) => (i === 4 || j === 4 ? 0 : (i === j ? variance : 0) + 3)),
    );
    const result = quasiVariances(covariance);
    own.forEach((variance, i) => {
      expect(result?.variances[i]).toBeCloseTo(variance, 10);
      expect(result?.standardErrors[i]).toBeCloseTo(Math.sqrt(variance), 10);
    });
  });

  it('keeps differences within their errors, and those within the errors of contrasts', () => {
    fc.assert(
      fc.property(covariances(6), (covariance) => {
        const result = quasiVariances(covariance);
        if (result === undefined) throw new Error('six items have quasi-variances');
        const { variances, differences, contrasts } = result;
        const errors = variances.flatMap((one, i) =>
          variances.slice(0, i).map((other, j) => {
            return Math.sqrt((one + other) / differenceVariance(covariance, i, j)) - 1;
          }),
        );
        expect(Math.min(...errors)).toBeCloseTo(differences.lowest, 12);
        expect(Math.max(...errors)).toBeCloseTo(differences.highest, 12);
        expect(contrasts.lowest).toBeLessThanOrEqual(differences.lowest + 1e-9);
        expect(contrasts.highest).toBeGreaterThanOrEqual(differences.highest - 1e-9);
      }),
    );
  });

  it('cannot be bettered by a small change of any one variance', () => {
    fc.assert(
      fc.property(covariances(5), (covariance) => {
        const badness = (variances: readonly number[]) =>
          variances.reduce(
            (sum, one, i) =>
              variances.slice(0, i).reduce((inner, other, j) => {
                return inner + Math.log((one + other) / differenceVariance(covariance, i, j)) ** 2;
              }, sum),
            0,
          );
        const { variances = [] } = quasiVariances(covariance) ?? {};
        const best = badness(variances);
        variances.forEach((_, changed) => {
          for (const change of [1e-4, -1e-4]) {
            const moved = variances.map((value, i) => (i === changed ? value + change : value));
            // Rounding of the sum itself may go either way.
            expect(badness(moved)).toBeGreaterThanOrEqual(best * (1 - 1e-9));
          }
        });
      }),
    );
  });

  it('reproduces the differences of fitted worths to a few per cent', () => {
    const orders = [
      [[0], [1], [2], [3]],
      [[1], [0], [3]],
      [[3], [2], [4]],
      [[4], [0], [2]],
      [[2], [4], [1]],
    ];
    const { covariance } = plackettLuce(orders, 5);
    const result = quasiVariances(covariance);
    expect(Math.abs(result?.differences.lowest ?? 1)).toBeLessThan(0.05);
    expect(Math.abs(result?.differences.highest ?? 1)).toBeLessThan(0.05);
  });

  it('halves the variance between two, has none for one, refuses one without variance', () => {
    expect(
      quasiVariances([
        [2, 0],
        [0, 4],
      ])?.variances,
    ).toEqual([3, 3]);
    expect(quasiVariances([[2]])).toBeUndefined();
    expect(() =>
      quasiVariances([
        [1, 1],
        [1, 1],
      ]),
    ).toThrow(RangeError);
  });
});
