import { describe, expect, it } from 'vitest';
import { threeTrees } from '../../tests/support/build-ledger.ts';
import { cropRecords } from './crop-record.ts';
import { cropTally } from './crop-tally.ts';

describe('crops', () => {
  const picks = [
    { on: '2026-07-01', tree: 'G1', crop: 'early' as const, fruit: 5, weight: 300 },
    { on: '2026-09-01', tree: 'G1', fruit: 20, weight: 700 },
    { on: '2026-09-01', tree: 'G2', fruit: 2, weight: 200 },
  ];

  it('share the picked weight of both', () => {
    expect(cropTally(cropRecords(threeTrees({ 2026: { picks } })))).toEqual({
      early: { trees: 1, load: 5, picked: 5, weight: 300, shareOfWeight: 0.25 },
      main: { trees: 2, load: 22, picked: 22, weight: 900, shareOfWeight: 0.75 },
    });
  });

  it('of which nothing was written down have no load', () => {
    const { early, main } = cropTally(cropRecords(threeTrees({ 2026: { picks: picks.slice(1) } })));
    expect(early).toEqual({ trees: 0, load: undefined, picked: 0, weight: 0, shareOfWeight: 0 });
    expect(main.shareOfWeight).toBe(1);
  });

  it('weigh at least what stood on the scales: the best fruit too, and nothing stretched', () => {
    const { main } = cropTally(
      cropRecords(
        threeTrees({
          2026: {
            picks: [
              { on: '2026-09-01', tree: 'G1', fruit: 10, weights: [40, 60] },
              { on: '2026-09-02', tree: 'G1', fruit: 9, weights: [70], sample: 'best' as const },
              { on: '2026-09-03', tree: 'G2', fruit: 4, weights: [50] },
            ],
          },
        }),
      ),
    );
    expect(main).toMatchObject({ picked: 23, weight: undefined, weightAtLeast: 220 });
  });

  it('have no share where the weight of one is not known', () => {
    const unweighed = { on: '2026-09-02', tree: 'G2', fruit: 1 };
    const { early, main } = cropTally(
      cropRecords(threeTrees({ 2026: { picks: [...picks, unweighed] } })),
    );
    expect(early).toMatchObject({ weight: 300, shareOfWeight: undefined });
    expect(main).toMatchObject({ weight: undefined, shareOfWeight: undefined });
  });
});
