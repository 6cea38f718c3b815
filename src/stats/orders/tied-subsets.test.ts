import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { tiedSubsets } from './tied-subsets.ts';

function subsets(n: number, size: number): number[][] {
  const all = Array.from({ length: 2 ** n }, (_, bits) =>
    Array.from({ length: n }, (_, item) => item).filter((item) => (bits >> item) & 1),
  );
  return all.filter((subset) => subset.length === size);
}

describe('tiedSubsets', () => {
  it('equals the sum over every subset, written out', () => {
    const worths = fc.array(fc.double({ min: 1e-4, max: 10, noNaN: true }), {
      minLength: 1,
      maxLength: 7,
    });
    fc.assert(
      fc.property(worths, fc.integer({ min: 1, max: 7 }), (values, wanted) => {
        const sums = tiedSubsets(7, 7);
        // What an earlier call left must not matter.
        sums(Float64Array.of(3, 1, 2, 5, 4, 6, 7), 7, 3);
        const size = Math.min(wanted, values.length);
        const means = subsets(values.length, size).map((items) => ({
          items,
          mean: items.reduce((product, i) => product * (values[i] ?? 0), 1) ** (1 / size),
        }));
        const sum = (held: readonly number[]) =>
          means
            .filter(({ items }) => held.every((item) => items.includes(item)))
            .reduce((total, { mean }) => total + mean, 0);
        const result = sums(Float64Array.from(values), values.length, size);
        expect(result.all / sum([])).toBeCloseTo(1, 12);
        for (let i = 0; i < values.length; i++) {
          expect((result.holding[i] ?? 0) / sum([i])).toBeCloseTo(1, 12);
          for (let j = i + 1; size > 1 && j < values.length; j++) {
            const both = result.holdingBoth[i * values.length + j] ?? 0;
            expect(both / sum([i, j])).toBeCloseTo(1, 12);
          }
        }
      }),
    );
  });
});
