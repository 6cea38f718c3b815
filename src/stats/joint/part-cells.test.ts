import { describe, expect, it } from 'vitest';
import { partCells } from './part-cells.ts';

const seen = {
  y: [5, 7, 4, 8, 6],
  item: [1, 1, 0, 0, 1],
  season: [2024, 2024, 2024, 2024, 2025],
  tree: [7, 7, 3, 3, 8],
  site: [0, 0, 2, 2, 2],
  plate: [10, 10, 11, 11, 12],
  block: [0, 0, 0, 0, 1],
  judge: [0, 1, 0, 2, 1],
  scale: 1,
};

describe('partCells', () => {
  const cells = partCells(seen);

  it('boils observations down to plate means about their middle, sorted by item', () => {
    expect(cells.middle).toBe(6);
    expect([...cells.plateMean]).toEqual([0, 0, 0]);
    expect([...cells.plateSize]).toEqual([2, 2, 1]);
    expect([...cells.plateItem]).toEqual([0, 1, 1]);
    expect([...cells.plateTree]).toEqual([3, 7, 8]);
    expect([...cells.plateBlock]).toEqual([0, 0, 1]);
  });

  it('has a column for each site that was seen, and codes judges as departures from their average', () => {
    expect([...cells.sites]).toEqual([0, 2]);
    expect(cells.columns).toBe(4);
    // First plate: at site 2, judges 0 and 2, that is (1, 0) and (-1, -1).
    expect([...cells.design.subarray(0, 4)]).toEqual([0, 1, 0, -0.5]);
  });

  it('keeps what varies within plates as cross-products', () => {
    // Plate of item 1: 5 and 7; plate of item 0: 4 and 8.
    expect(cells.withinSquare).toBe(2 * 1 + 2 * 4);
    expect([...cells.withinProduct.subarray(0, 2)]).toEqual([0, 0]);
    // Third column within the plates: (1, -1) beside (-2, 2), and (0.5, -0.5) beside (-1, 1).
    expect(cells.withinProduct[2]).toBe(-4 - 1);
  });

  it('takes a tree of unknown age for a grown one', () => {
    expect([...cells.plateAge]).toEqual([1, 1, 1].map(() => Number.POSITIVE_INFINITY));
    expect([...partCells({ ...seen, age: [2, 2, 5, 5, 3] }).plateAge]).toEqual([5, 2, 3]);
  });
});
