import fc from 'fast-check';
import { Matrix, pseudoInverse, SingularValueDecomposition } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import type { Factor } from '../numbers/factor.ts';
import { type AdditiveModelInput, additiveModel } from './additive-model.ts';

/** Design matrix with one column a level, treatments first. */
function design({ y, treatment, treatments, factors }: AdditiveModelInput): Matrix {
  const all: Factor[] = [{ levels: treatment, count: treatments }, ...factors];
  return new Matrix(
    y.map((_, row) =>
      all.flatMap(({ levels, count }) =>
        Array.from({ length: count }, (_, level) => (levels[row] === level ? 1 : 0)),
      ),
    ),
  );
}

const layouts = fc
  .record({
    rows: fc.integer({ min: 1, max: 14 }),
    treatments: fc.integer({ min: 1, max: 5 }),
    sizes: fc.array(fc.integer({ min: 1, max: 5 }), { minLength: 1, maxLength: 3 }),
  })
  .chain(({ rows, treatments, sizes }) => {
    const column = (size: number) =>
      fc.array(fc.nat(size - 1), { minLength: rows, maxLength: rows });
    return fc.record({
      y: fc.array(fc.integer({ min: -50, max: 50 }), { minLength: rows, maxLength: rows }),
      treatment: column(treatments),
      treatments: fc.constant(treatments),
      factors: fc.tuple(
        ...sizes.map((count) => column(count).map((levels): Factor => ({ levels, count }))),
      ),
    });
  });

describe('additiveModel against a dense pseudo-inverse, for random layouts', () => {
  it('has its rank and residual variance, compares what is estimable and nothing else', () => {
    fc.assert(
      fc.property(layouts, (input) => {
        const x = design(input);
        const model = additiveModel(input);
        const square = x.transpose().mmul(x);
        const rank = new SingularValueDecomposition(square).rank;
        expect(model?.rank).toBe(rank);
        const normal = pseudoInverse(square, 1e-9);
        const effects = normal.mmul(x.transpose()).mmul(Matrix.columnVector(input.y));
        const projector = normal.mmul(square);
        const residuals = Matrix.columnVector(input.y).sub(x.mmul(effects));
        const rss = residuals.dot(residuals);
        if (model?.df === 0) expect(model.residualVariance).toBeUndefined();
        else expect(model?.residualVariance).toBeCloseTo(rss / (input.y.length - rank), 7);
        for (let i = 0; i < input.treatments; i++) {
          for (let j = 0; j < i; j++) {
            if (model?.counts[i] === 0 || model?.counts[j] === 0) continue;
            const contrast = Matrix.zeros(x.columns, 1);
            contrast.set(i, 0, 1);
            contrast.set(j, 0, -1);
            const moved = projector.mmul(contrast).sub(contrast);
            const estimable = moved.norm() < 1e-6;
            expect(model?.groupOf[i] === model?.groupOf[j]).toBe(estimable);
            if (!estimable) continue;
            const difference = (model?.means[i] ?? 0) - (model?.means[j] ?? 0);
            expect(difference).toBeCloseTo(effects.get(i, 0) - effects.get(j, 0), 7);
            const group = model?.groups[model.groupOf[i] ?? -1];
            const [a, b] = [i, j].map((each) => group?.treatments.indexOf(each) ?? -1);
            const c = group?.covariance;
            if (c === undefined || a === undefined || b === undefined) continue;
            const at = (row: number, column: number) => c[row]?.[column] ?? Number.NaN;
            const variance = at(a, a) + at(b, b) - 2 * at(a, b);
            const wanted = contrast.transpose().mmul(normal).mmul(contrast).get(0, 0);
            expect(variance).toBeCloseTo(wanted * (model?.residualVariance ?? 0), 6);
          }
        }
      }),
    );
  });
});

describe('additiveModel', () => {
  it('without factors gives plain means', () => {
    const model = additiveModel({
      y: [1, 3, 10],
      treatment: [0, 0, 2],
      treatments: 3,
      factors: [],
    });
    expect(model?.means).toEqual([2, undefined, 10]);
    expect(model?.groupOf).toEqual([0, undefined, 0]);
    expect(model?.standardErrors[0]).toBeCloseTo(1, 12);
    expect(model?.standardErrors[2]).toBeCloseTo(Math.SQRT2, 12);
  });

  it('undoes a harsh taster', () => {
    // Taster 1 marks 3 lower throughout, and tasted cultivar 1 twice, cultivar 0 once.
    const model = additiveModel({
      y: [8, 8, 6, 5, 3, 3],
      treatment: [0, 0, 1, 0, 1, 1],
      treatments: 2,
      factors: [{ levels: [0, 0, 0, 1, 1, 1], count: 2 }],
    });
    expect(model?.means[0]).toBeCloseTo(6.5, 12);
    expect(model?.means[1]).toBeCloseTo(4.5, 12);
    expect(model?.rawMeans).toEqual([7, 4]);
    expect(model?.residualVariance).toBe(0);
  });

  it('a chain of shared tasters and sittings is not enough for two factors', () => {
    // In the one sitting cultivar 0 was tasted by taster 0 only and cultivar 1 by taster 1 only: a
    // sweeter cultivar and a kinder taster cannot be told apart, though all share the sitting.
    const model = additiveModel({
      y: [5, 6, 7, 9],
      treatment: [0, 0, 1, 1],
      treatments: 2,
      factors: [
        { levels: [0, 0, 1, 1], count: 2 },
        { levels: [0, 0, 0, 0], count: 1 },
      ],
    });
    expect(model?.groups.map(({ treatments }) => treatments)).toEqual([[0], [1]]);
    expect(model?.means[0]).toBeCloseTo(5.5, 12);
    expect(model?.means[1]).toBeCloseTo(8, 12);
  });

  it('falls back on observed weights where two other factors are confounded', () => {
    // Taster 0 came to sitting 0 only, taster 1 to sittings 1 and 2 only.
    const model = additiveModel({
      y: [5, 7, 6, 9, 4, 5, 5],
      treatment: [0, 1, 0, 1, 0, 1, 0],
      treatments: 2,
      factors: [
        { levels: [0, 0, 1, 1, 1, 1, 0], count: 2 },
        { levels: [0, 0, 1, 1, 2, 2, 0], count: 3 },
      ],
    });
    expect(model?.groups).toHaveLength(1);
    expect(model?.groups[0]?.weights).toBe('observed');
    expect(model?.standardErrors.every((se) => se !== undefined && se > 0)).toBe(true);
  });

  it('has no standard errors without residual degrees of freedom', () => {
    const model = additiveModel({ y: [1, 2], treatment: [0, 1], treatments: 2, factors: [] });
    expect(model?.df).toBe(0);
    expect(model?.means).toEqual([1, 2]);
    expect(model?.standardErrors).toEqual([undefined, undefined]);
    expect(model?.groups[0]?.covariance).toBeUndefined();
  });

  it('is absent without rows, and refuses levels out of bounds', () => {
    expect(additiveModel({ y: [], treatment: [], treatments: 0, factors: [] })).toBeUndefined();
    const wrong = { y: [1], treatment: [1], treatments: 1, factors: [] };
    expect(() => additiveModel(wrong)).toThrow(RangeError);
  });

  it('takes 100,000 rows in 5,000 sittings in a few seconds at most', () => {
    const rows = Array.from({ length: 100_000 }, (_, row) => row);
    const treatment = rows.map((row) => ((row * 7919) % 101) % 100);
    const taster = rows.map((row) => (row * 31) % 4);
    const sitting = rows.map((row) => Math.floor(row / 20));
    const y = rows.map((_, row) => {
      const noise = Math.sin(row * 12.9898) * 0.5;
      return (treatment[row] ?? 0) / 50 + (taster[row] ?? 0) / 3 + Math.sin(row / 20) + noise;
    });
    const started = performance.now();
    const model = additiveModel({
      y,
      treatment,
      treatments: 100,
      factors: [
        { levels: taster, count: 4 },
        { levels: sitting, count: 5000 },
      ],
    });
    expect(performance.now() - started).toBeLessThan(5000);
    expect(model?.groups).toHaveLength(1);
    expect(model?.df).toBe(100_000 - 5000 - 99 - 3);
    const slope = ((model?.means[99] ?? 0) - (model?.means[0] ?? 0)) / 99;
    expect(slope).toBeCloseTo(1 / 50, 3);
  });
});
