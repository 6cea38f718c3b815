import { describe, expect, it } from 'vitest';
import { threeTrees } from '../../tests/support/build-ledger.ts';
import { cropRecords } from './crop-record.ts';
import { yieldFigures } from './yield-figures.ts';

const at95 = { confidence: 0.95, trunkSeason: 2026 };

describe('yield', () => {
  it('per branch is the ratio of totals, and has an error from two trees on', () => {
    const ledger = threeTrees({
      2026: {
        counts: [
          { on: '2026-07-02', tree: 'G1', fruit: 21, branches: 8 },
          { on: '2026-07-02', tree: 'G2', fruit: 3, branches: 2 },
        ],
      },
    });
    const { fruitPerBranch } = yieldFigures(ledger, cropRecords(ledger), at95);
    // R = 24 / 10; residuals 21 - 19.2 and 3 - 4.8; se = sqrt(2 * (1.8^2 + 1.8^2)) / 10 by hand.
    expect(fruitPerBranch?.value).toBeCloseTo(2.4, 14);
    expect(fruitPerBranch?.se).toBeCloseTo(0.36, 14);
    // t(0.975, 1 df) = 12.7062 (standard table); the lower end would be below 0.
    expect(fruitPerBranch?.low).toBe(0);
    expect(fruitPerBranch?.high).toBeCloseTo(2.4 + 12.7062 * 0.36, 4);
  });

  it('of one tree has no interval, over several seasons neither', () => {
    const counts = (year: number, fruit: number) => ({
      counts: [{ on: `${year}-07-02`, tree: 'G1', fruit, branches: 8 }],
    });
    const ledger = threeTrees({ 2025: counts(2025, 11), 2026: counts(2026, 21) });
    expect(yieldFigures(ledger, cropRecords(ledger), at95)).toMatchObject({
      load: 32,
      branches: 16,
      fruitPerBranch: { value: 2, se: undefined, low: undefined, high: undefined, units: 1 },
      trees: 1,
    });
  });

  it('per branch leaves out trees whose branches were never counted', () => {
    const ledger = threeTrees({
      2026: {
        counts: [
          { on: '2026-07-02', tree: 'G1', fruit: 20, branches: 8 },
          { on: '2026-07-02', tree: 'G2', fruit: 90 },
        ],
      },
    });
    expect(yieldFigures(ledger, cropRecords(ledger), at95)).toMatchObject({
      load: 110,
      branches: 8,
      fruitPerBranch: { value: 2.5, units: 1 },
      trees: 2,
    });
  });

  it('has no weight where some picked fruit were not weighed, but tells of the trees that have', () => {
    const ledger = threeTrees({
      2026: {
        counts: [
          { on: '2026-07-02', tree: 'G1', fruit: 10, branches: 4 },
          { on: '2026-07-02', tree: 'G2', fruit: 10, branches: 4 },
        ],
        picks: [
          { on: '2026-08-01', tree: 'G1', fruit: 5, weight: 250 },
          { on: '2026-08-01', tree: 'G2', fruit: 5 },
        ],
        growth: [
          { on: '2026-03-01', tree: 'G1', girth: 10 },
          { on: '2026-03-01', tree: 'G2', girth: 20 },
        ],
      },
    });
    const figures = yieldFigures(ledger, cropRecords(ledger), at95);
    expect(figures).toMatchObject({ picked: 10, pickedShare: 0.5, pickedWeight: undefined });
    expect(figures.weightPerBranch).toBe(62.5);
    expect(figures.trunkArea).toBeCloseTo(500 / (4 * Math.PI), 12);
    expect(figures.yieldEfficiency).toBeCloseTo(250 / (100 / (4 * Math.PI)), 12);
  });

  it('tells nothing that cannot be had', () => {
    const ledger = threeTrees({ 2026: { counts: [{ on: '2026-07-02', tree: 'G1', fruit: 0 }] } });
    expect(yieldFigures(ledger, cropRecords(ledger), at95)).toEqual({
      load: 0,
      branches: undefined,
      fruitPerBranch: undefined,
      picked: 0,
      pickedShare: undefined,
      pickedWeight: 0,
      weightPerBranch: undefined,
      trunkArea: undefined,
      yieldEfficiency: undefined,
      trees: 1,
    });
  });
});
