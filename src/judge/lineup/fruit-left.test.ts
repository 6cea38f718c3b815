import { expect, test } from 'vitest';
import { buildLedger } from '../../../tests/support/build-ledger.ts';
import type { IsoDate } from '../../model/dates.ts';
import { fruitLeft } from './fruit-left.ts';

const { trees, seasons } = buildLedger({
  cultivars: { amber: { name: 'Amber Lantern' } },
  trees: { G1: { cultivar: 'amber' }, G2: { cultivar: 'amber' } },
  seasons: {
    2026: {
      counts: [
        { on: '2026-09-01', tree: 'G1', fruit: 35 },
        { on: '2026-10-15', tree: 'G1', fruit: 4 },
      ],
      picks: [
        { on: '2026-09-01', tree: 'G1', fruit: 6 },
        { on: '2026-09-20', tree: 'G1', fruit: 15 },
        { on: '2026-10-15', tree: 'G1', fruit: 1 },
        { on: '2026-10-20', tree: 'G1', fruit: 5 },
      ],
      drops: [{ on: '2026-09-21', tree: 'G1', fruit: 2 }],
    },
  },
});

/** By hand from the entries above. */
test.each([
  ['2026-08-31', undefined],
  ['2026-09-01', 29],
  ['2026-09-20', 14],
  ['2026-09-30', 12],
  // The count says that nine more went unseen, and one was picked after it that day.
  ['2026-10-15', 3],
  ['2026-10-20', 0],
])('what hangs goes by the last count: %s', (on, left) => {
  const tree = trees.get('G1') ?? expect.fail();
  expect(fruitLeft(seasons[0], tree, 'main', on as IsoDate)).toBe(left);
});

test('what was never counted is not known', () => {
  const tree = trees.get('G2') ?? expect.fail();
  expect(fruitLeft(seasons[0], tree, 'main', '2026-10-20' as IsoDate)).toBeUndefined();
});
