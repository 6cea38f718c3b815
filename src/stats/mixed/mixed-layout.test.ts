import { describe, expect, it } from 'vitest';
import { mixedLayout } from './mixed-layout.ts';

const seen = {
  y: [5, 7, 4, 8, 6],
  item: [1, 1, 0, 0, 1],
  season: [2024, 2024, 2024, 2024, 2025],
  tree: [7, 7, 3, 3, 8],
  plate: [10, 10, 11, 11, 12],
  block: [0, 0, 0, 0, 1],
  factors: [[0, 1, 0, 2, 1]],
};

describe('mixedLayout', () => {
  const layout = mixedLayout(seen);

  it('boils observations down to plate means, sorted by item', () => {
    expect([...layout.plateMean]).toEqual([6, 6, 6]);
    expect([...layout.plateSize]).toEqual([2, 2, 1]);
    expect([...layout.firstPlate]).toEqual([0, 1, 3]);
    expect([...layout.plateBlock]).toEqual([0, 0, 1]);
  });

  it('numbers seasons and trees anew within an item', () => {
    expect([...layout.plateSeason]).toEqual([0, 0, 1]);
    expect([...layout.plateTree]).toEqual([0, 0, 1]);
    expect([...layout.seasonsOf]).toEqual([1, 2]);
    expect([...layout.treesOf]).toEqual([1, 2]);
  });

  it('codes factor levels as departures from their average', () => {
    expect(layout.columns).toBe(3);
    // First plate: levels 0 and 2, that is (1, 1, 0) and (1, -1, -1).
    expect([...layout.design.subarray(0, 3)]).toEqual([1, 0, -0.5]);
  });

  it('keeps what varies within plates as cross-products', () => {
    // Plate of item 1: 5 and 7; plate of item 0: 4 and 8.
    expect(layout.withinSquare).toBe(2 * 1 + 2 * 4);
    expect(layout.withinProduct[0]).toBe(0);
    // Column 1 within the plates: (0.5, -0.5) beside (-1, 1), and (1, -1) beside (-2, 2).
    expect(layout.withinProduct[1]).toBe(-1 - 4);
  });

  it('takes an item without observations along as empty', () => {
    const gap = mixedLayout({ ...seen, item: [2, 2, 0, 0, 2] });
    expect([...gap.firstPlate]).toEqual([0, 1, 1, 3]);
    expect(gap.treesOf[1]).toBe(0);
  });
});
