import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { friedman } from './friedman.ts';
import { friedmanChance } from './friedman-chance.ts';

/** Every way to deal ties and ranks, counted one by one. */
function counted(values: readonly (readonly number[])[]): number {
  const orders = (items: readonly number[]): number[][] =>
    items.length < 2
      ? [[...items]]
      : items.flatMap((item, at) =>
          orders(items.filter((_, other) => other !== at)).map((rest) => [item, ...rest]),
        );
  let tables: number[][][] = [[]];
  for (const block of values) {
    tables = tables.flatMap((table) => orders(block).map((order) => [...table, order]));
  }
  const seen = friedman(values)?.chiSquare ?? 0;
  const reached = tables.filter((table) => (friedman(table)?.chiSquare ?? 0) >= seen - 1e-9);
  return reached.length / tables.length;
}

describe('the chance of so much agreement', () => {
  it('is the share of all ways to deal the ranks, ties and all', () => {
    const mark = fc.integer({ min: 1, max: 3 });
    const table = fc
      .integer({ min: 2, max: 3 })
      .chain((k) =>
        fc.array(fc.array(mark, { minLength: k, maxLength: k }), { minLength: 1, maxLength: 4 }),
      );
    fc.assert(
      fc.property(table, (values) => {
        const chance = friedmanChance(values);
        if (chance === undefined) expect(friedman(values)).toBeUndefined();
        else expect(chance).toBeCloseTo(counted(values), 10);
      }),
      { numRuns: 60 },
    );
  });

  it('is near the F approximation where it goes over to it', () => {
    const rows = [
      [1, 2, 3, 4, 5, 6, 7, 8],
      [2, 1, 3, 4, 6, 5, 8, 7],
      [1, 3, 2, 5, 4, 7, 6, 8],
    ];
    expect(friedmanChance(rows)).toBe(friedman(rows)?.fTest?.p);
  });

  it('is certain for one taster, and not told where all is tied', () => {
    expect(friedmanChance([[1, 2, 3]])).toBe(1);
    expect(
      friedmanChance([
        [1, 1],
        [1, 1],
      ]),
    ).toBeUndefined();
  });
});
