import { describe, expect, it } from 'vitest';
import { threeTrees } from '../../tests/support/build-ledger.ts';
import { cropRecords } from './crop-record.ts';
import { weightFigures } from './weight-figures.ts';

describe('weights', () => {
  it('of two trees take the tree as the unit', () => {
    const ledger = threeTrees({
      2026: {
        picks: [
          { on: '2026-08-01', tree: 'G1', weights: [40, 44, 48] },
          { on: '2026-08-02', tree: 'G2', fruit: 2, weight: 128 },
        ],
      },
    });
    const figures = weightFigures(cropRecords(ledger), 0.95);
    // Totals 132 g of 3 and 128 g of 2: R = 52, residuals -24 and 24, se = sqrt(2 * 1152) / 5.
    expect(figures).toMatchObject({ unit: 'tree', trees: 2, weighed: 5, fruit: 5, singly: 3 });
    expect(figures.mean?.value).toBeCloseTo(52, 12);
    expect(figures.mean?.se).toBeCloseTo(9.6, 12);
    // Spread of 40, 44, 48 alone.
    expect(figures).toMatchObject({ sd: 4, median: 44, q1: 42, q3: 46, min: 40, max: 48 });
    expect(figures.cv).toBeCloseTo(400 / 44, 12);
  });

  it('of one tree take its single fruit as the unit', () => {
    const ledger = threeTrees({
      2026: { picks: [{ on: '2026-08-01', tree: 'G1', weights: [40, 44, 48] }] },
    });
    const { mean, unit } = weightFigures(cropRecords(ledger), 0.95);
    expect(unit).toBe('fruit');
    expect(mean?.se).toBeCloseTo(4 / Math.sqrt(3), 12);
    // t(0.975, 2 df) = 4.30265 (standard table)
    expect(mean?.high).toBeCloseTo(44 + (4.30265 * 4) / Math.sqrt(3), 4);
  });

  it('of the best fruit are counted as weighed and kept out of every figure', () => {
    const ledger = threeTrees({
      2026: {
        picks: [
          { on: '2026-08-01', tree: 'G1', weights: [40, 44] },
          { on: '2026-08-02', tree: 'G1', fruit: 9, weights: [99], sample: 'best' },
        ],
      },
    });
    expect(weightFigures(cropRecords(ledger), 0.95)).toMatchObject({
      weighed: 3,
      best: 1,
      fruit: 11,
      mean: { value: 42 },
      max: 44,
    });
  });

  it('tell no spread of one fruit beside those weighed together', () => {
    const ledger = threeTrees({
      2026: {
        picks: [
          { on: '2026-08-01', tree: 'G1', weights: [57] },
          { on: '2026-08-02', tree: 'G1', fruit: 10, weight: 130 },
        ],
      },
    });
    expect(weightFigures(cropRecords(ledger), 0.95)).toMatchObject({
      weighed: 11,
      singly: 1,
      mean: { value: 17 },
      median: undefined,
      q1: undefined,
      q3: undefined,
      min: undefined,
      max: undefined,
    });
  });

  it('tell nothing where nothing was weighed', () => {
    const ledger = threeTrees({ 2026: { picks: [{ on: '2026-08-01', tree: 'G1', fruit: 4 }] } });
    expect(weightFigures(cropRecords(ledger), 0.95)).toEqual({
      weighed: 0,
      best: 0,
      fruit: 4,
      mean: undefined,
      unit: 'fruit',
      singly: 0,
      sd: undefined,
      cv: undefined,
      median: undefined,
      q1: undefined,
      q3: undefined,
      min: undefined,
      max: undefined,
      trees: 0,
    });
  });
});
