import { describe, expect, it } from 'vitest';
import type { PickSketch } from '../../tests/support/build-ledger.ts';
import { buildLedger } from '../../tests/support/build-ledger.ts';
import { cropRecords } from './crop-record.ts';
import type { PickWeight } from './pick-weight.ts';
import { pickWeight } from './pick-weight.ts';

function recordOf(picks: readonly Omit<PickSketch, 'on' | 'tree'>[]) {
  const [record] = cropRecords(
    buildLedger({
      cultivars: { amber: { name: 'Amber Lantern' } },
      trees: { G1: { cultivar: 'amber' } },
      seasons: { 2026: { picks: picks.map((one) => ({ on: '2026-08-01', tree: 'G1', ...one })) } },
    }),
  );
  if (record === undefined) throw new Error('no record');
  return record;
}

function told(pick: Omit<PickSketch, 'on' | 'tree'>): PickWeight {
  const [one] = recordOf([pick]).picks;
  if (one === undefined) throw new Error('no pick');
  return pickWeight(one);
}

describe('weight of a pick', () => {
  it('weighed together counts all its fruit', () => {
    expect(told({ fruit: 11, weight: 580 })).toEqual({
      counted: { fruit: 11, weight: 580 },
      singles: [],
      weighed: 11,
      onScales: 580,
      best: 0,
      total: 580,
      unknown: 0,
      source: 'together',
    });
  });

  it('weighed singly counts each fruit, and is their sum', () => {
    expect(told({ weights: [52, 47, 61] })).toMatchObject({
      counted: { fruit: 3, weight: 160 },
      singles: [52, 47, 61],
      total: 160,
      source: 'singly',
    });
  });

  it('together comes before single weights of a part', () => {
    expect(told({ fruit: 10, weight: 480, weights: [52, 47] })).toMatchObject({
      counted: { fruit: 10, weight: 480 },
      singles: [52, 47],
      weighed: 10,
      total: 480,
    });
  });

  it.each(['all', 'random', undefined] as const)(
    'stretches a sample (%s) to all fruit',
    (sample) => {
      const pick = { fruit: 10, weights: [40, 60], ...(sample === undefined ? {} : { sample }) };
      expect(told(pick)).toMatchObject({
        counted: { fruit: 2, weight: 100 },
        total: 500,
        source: 'stretched',
      });
    },
  );

  it('keeps the best fruit out of means, and does not stretch them', () => {
    expect(told({ fruit: 10, weights: [80, 90], sample: 'best' })).toEqual({
      counted: { fruit: 0, weight: 0 },
      singles: [],
      weighed: 2,
      onScales: 170,
      best: 2,
      total: undefined,
      unknown: 10,
      source: 'unknown',
    });
  });

  it('of the best fruit and of all together: the whole counts, the best do not', () => {
    expect(told({ fruit: 10, weight: 500, weights: [80, 90], sample: 'best' })).toMatchObject({
      counted: { fruit: 10, weight: 500 },
      singles: [],
      best: 2,
      total: 500,
    });
  });

  it('is unknown where nothing was weighed', () => {
    expect(told({ fruit: 4 })).toMatchObject({ total: undefined, source: 'unknown', weighed: 0 });
  });

  it('is nought where nothing was picked', () => {
    expect(told({ fruit: 0 })).toMatchObject({ total: 0, counted: { fruit: 0, weight: 0 } });
  });
});

describe('weight of a crop', () => {
  it('adds up over its picks', () => {
    const { weights } = recordOf([
      { fruit: 11, weight: 580 },
      { weights: [50, 60] },
      { fruit: 4, weights: [40, 50] },
    ]);
    expect(weights).toEqual({
      counted: { fruit: 15, weight: 780 },
      singles: [50, 60, 40, 50],
      weighed: 15,
      onScales: 780,
      best: 0,
      total: 870,
      unknown: 0,
      stretchedPicks: 1,
    });
  });

  it('is unknown as soon as one pick was not weighed, and says how many fruit those are', () => {
    const { weights } = recordOf([{ fruit: 11, weight: 580 }, { fruit: 3 }]);
    expect(weights).toMatchObject({ total: undefined, unknown: 3, counted: { fruit: 11 } });
  });
});
