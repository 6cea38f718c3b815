import { expect, test } from 'vitest';
import { threeTrees } from '../../tests/support/build-ledger.ts';
import { selectRecords } from '../measure/crop-record.ts';
import { commonShifts, figureMoves } from './figure-moves.ts';

const ledger = threeTrees({
  2025: {
    counts: [
      { on: '2025-08-01', tree: 'G1', fruit: 10, branches: 5 },
      { on: '2025-08-01', tree: 'G2', fruit: 40, branches: 5 },
    ],
    picks: [{ on: '2025-09-01', tree: 'G1', weights: [40, 60], split: 1 }],
  },
  2026: {
    counts: [
      { on: '2026-08-01', tree: 'G1', fruit: 15, branches: 5 },
      { on: '2026-08-01', tree: 'Y1', fruit: 2, branches: 4 },
    ],
    picks: [{ on: '2026-09-01', tree: 'G1', weights: [70, 70, 40] }],
  },
});
const records = (year: number) => selectRecords(ledger, { seasons: [year] });

test('a tree that is there once only is left out where trees must be alike', () => {
  expect(figureMoves('fruitPerBranch', records(2025), records(2026), true)).toEqual([
    { cultivar: 'amber', crop: 'main', before: 2, after: 3, change: 1, relative: 0.5, trees: 1 },
  ]);
  // All trees: (10 + 40) / 10 and (15 + 2) / 9.
  const [all] = figureMoves('fruitPerBranch', records(2025), records(2026), false);
  expect(all).toMatchObject({ before: 5, after: 17 / 9, trees: 2 });
});

test('weights and sound shares are those of all their fruit', () => {
  const [weight] = figureMoves('meanWeight', records(2025), records(2026), true);
  expect(weight).toMatchObject({ before: 50, after: 60, change: 10, relative: 0.2 });
  const [sound] = figureMoves('soundShare', records(2025), records(2026), true);
  expect(sound).toMatchObject({ before: 0.5, after: 1, change: 0.5 });
});

test('a figure that is there once only has no change', () => {
  const [gone] = figureMoves('meanWeight', records(2025), [], false);
  expect(gone).toEqual({
    ...{ cultivar: 'amber', crop: 'main', before: 50, after: undefined },
    ...{ change: undefined, relative: undefined, trees: 1 },
  });
  expect(commonShifts('meanWeight', gone === undefined ? [] : [gone])).toEqual([]);
});

test('the shift that cultivars share is the median of their changes', () => {
  const move = (before: number, after: number) => ({
    ...{ cultivar: 'amber', crop: 'main' as const, before, after },
    ...{ change: after - before, relative: (after - before) / before, trees: 1 },
  });
  const moves = [move(1, 2), move(2, 1), move(4, 5), move(4, 4)];
  // Relative changes +1, -0.5, +0.25 and 0; differences 1, -1, 1 and 0.
  expect(commonShifts('fruitPerBranch', moves)).toEqual([
    { crop: 'main', cultivars: 4, rose: 2, fell: 1, middle: 0.125 },
  ]);
  expect(commonShifts('soundShare', moves)).toMatchObject([{ middle: 0.5 }]);
  // From nothing is further up than any ratio, and nothing twice is no change.
  const none = { ...move(0, 3), relative: undefined };
  const still = { ...move(0, 0), relative: undefined };
  expect(commonShifts('fruitPerBranch', [none, move(2, 1), move(4, 3)])).toEqual([
    { crop: 'main', cultivars: 3, rose: 1, fell: 2, middle: -0.25 },
  ]);
  expect(commonShifts('fruitPerBranch', [still, move(2, 1), move(4, 3)])).toMatchObject([
    { cultivars: 3, middle: -0.25 },
  ]);
  expect(commonShifts('fruitPerBranch', [none, move(2, 1)])).toEqual([
    { crop: 'main', cultivars: 2, rose: 1, fell: 1, middle: undefined },
  ]);
});
