import fc from 'fast-check';
import { determinant, inverse, Matrix } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import type { Factor } from '../../../src/stats/numbers/factor.ts';
import { reml } from './reml.ts';

const ones = (rows: number): number[][] => Array.from({ length: rows }, () => [1]);

/** The residual log-likelihood from its definition, with full n by n matrices. */
function denseLogLikelihood(
  y: readonly number[],
  fixed: readonly (readonly number[])[],
  random: readonly Factor[],
  variances: readonly number[],
): number {
  const n = y.length;
  const v = Matrix.zeros(n, n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) {
      let entry = i === j ? (variances[random.length] ?? 0) : 0;
      for (const [at, { levels }] of random.entries()) {
        if (levels[i] === levels[j]) entry += variances[at] ?? 0;
      }
      v.set(i, j, entry);
    }
  }
  const x = new Matrix(fixed.map((row) => [...row]));
  const vInverse = inverse(v);
  const middle = x.transpose().mmul(vInverse).mmul(x);
  const column = Matrix.columnVector([...y]);
  const estimates = inverse(middle).mmul(x.transpose().mmul(vInverse).mmul(column));
  const rest = column.sub(x.mmul(estimates));
  const squares = rest.transpose().mmul(vInverse).mmul(rest).get(0, 0);
  return (
    -0.5 *
    ((n - x.columns) * Math.log(2 * Math.PI) +
      Math.log(determinant(v)) +
      Math.log(determinant(middle)) +
      squares)
  );
}

describe('reml against the definition of the residual likelihood', () => {
  const column = (count: number) => fc.array(fc.nat(count - 1), { minLength: 16, maxLength: 16 });
  const trials = fc.record({
    y: fc.array(fc.integer({ min: 0, max: 99 }), { minLength: 16, maxLength: 16 }),
    first: column(5),
    second: column(3),
  });

  it('has that value at its variances, and no neighbour is higher', () => {
    let solved = 0;
    fc.assert(
      fc.property(trials, ({ y, first, second }) => {
        const random = [
          { levels: first, count: 5 },
          { levels: second, count: 3 },
        ];
        const fixed = y.map((_, row) => [1, row]);
        const fit = reml({ y, fixed, random });
        if (fit === undefined) return;
        solved++;
        expect(fit.converged).toBe(true);
        const best = [...fit.variances, fit.residual];
        const highest = denseLogLikelihood(y, fixed, random, best);
        expect(fit.logLikelihood).toBeCloseTo(highest, 7);
        for (const [at, variance] of best.entries()) {
          for (const factor of [0.98, 1.02]) {
            const near = [...best];
            near[at] = variance === 0 ? fit.residual * 0.001 : variance * factor;
            const value = denseLogLikelihood(y, fixed, random, near);
            expect(value).toBeLessThanOrEqual(highest + 1e-9);
          }
        }
      }),
      { numRuns: 60 },
    );
    expect(solved).toBeGreaterThan(40);
  });
});

describe('reml', () => {
  it('gives exactly zero, and no prediction, where levels vary less than chance would have it', () => {
    const fit = reml({
      y: [1, 9, 2, 8, 1, 9, 3, 7],
      fixed: ones(8),
      random: [{ levels: [0, 0, 1, 1, 2, 2, 3, 3], count: 4 }],
    });
    expect(fit?.variances).toEqual([0]);
    expect(fit?.blups).toEqual([[0, 0, 0, 0]]);
    expect(fit?.blupSe).toEqual([[0, 0, 0, 0]]);
    expect(fit?.converged).toBe(true);
  });

  it('predicts 0 for a level without rows, with the whole variance as its error', () => {
    const fit = reml({
      y: [1, 2, 8, 9, 4, 5],
      fixed: ones(6),
      random: [{ levels: [0, 0, 1, 1, 3, 3], count: 4 }],
    });
    expect(fit?.blups[0]?.[2]).toBe(0);
    expect(fit?.blupSe[0]?.[2]).toBeCloseTo(Math.sqrt(fit?.variances[0] ?? Number.NaN), 10);
  });

  it('does not depend on which factor comes first', () => {
    const y = [5, 7, 6, 9, 4, 8, 6, 10, 7, 12, 3, 6];
    const a = { levels: [0, 0, 1, 1, 2, 2, 3, 3, 4, 4, 5, 5], count: 6 };
    const b = { levels: [0, 1, 2, 0, 1, 2, 0, 1, 2, 0, 1, 2], count: 3 };
    const one = reml({ y, fixed: ones(12), random: [a, b] });
    const other = reml({ y, fixed: ones(12), random: [b, a] });
    expect(one?.variances[0]).toBeCloseTo(other?.variances[1] ?? Number.NaN, 8);
    expect(one?.variances[1]).toBeCloseTo(other?.variances[0] ?? Number.NaN, 8);
    expect(one?.logLikelihood).toBeCloseTo(other?.logLikelihood ?? Number.NaN, 10);
  });

  it('is absent where one row a level cannot tell the variances apart', () => {
    const random = [{ levels: [0, 1, 2, 3], count: 4 }];
    expect(reml({ y: [1, 2, 3, 5], fixed: ones(4), random })).toBeUndefined();
  });

  it('is absent where nothing is left for the residual', () => {
    const random = [{ levels: [0, 0, 1, 1, 2, 2], count: 3 }];
    expect(reml({ y: [1, 1, 3, 3, 4, 4], fixed: ones(6), random })).toBeUndefined();
    expect(reml({ y: [2, 2, 2, 2, 2, 2], fixed: ones(6), random })).toBeUndefined();
  });

  it('refuses dependent fixed columns, sizes that do not match and no random factor', () => {
    const random = [{ levels: [0, 0, 1, 1], count: 2 }];
    const y = [1, 2, 3, 5];
    expect(() => reml({ y, fixed: y.map(() => [1, 2]), random })).toThrow(RangeError);
    expect(() => reml({ y, fixed: ones(3), random })).toThrow(RangeError);
    expect(() => reml({ y, fixed: ones(4), random: [] })).toThrow(RangeError);
    expect(() => reml({ y, fixed: ones(4), random: [{ levels: [0, 0, 1, 2], count: 2 }] })).toThrow(
      RangeError,
    );
  });
});
