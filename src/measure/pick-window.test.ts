import { expect, test } from 'vitest';
import { buildLedger, day } from '../../tests/support/build-ledger.ts';
import { pickWindows, sameDayIn } from './pick-window.ts';

const pick = (on: string, tree: string, unripe = 0) => ({ on, tree, fruit: 3, unripe });
const ledger = buildLedger({
  cultivars: { amber: { name: 'Amber Lantern' }, quay: { name: 'Slate Quay' } },
  trees: {
    G1: { cultivar: 'amber' },
    G2: { cultivar: 'amber' },
    Q1: { cultivar: 'quay' },
  },
  seasons: {
    2024: {
      picks: [pick('2024-09-20', 'G1'), pick('2024-08-30', 'G1'), pick('2024-08-01', 'G1', 3)],
    },
    2025: { picks: [pick('2025-10-04', 'G1'), pick('2025-09-01', 'G1')] },
    2026: { picks: [pick('2026-07-01', 'G1')] },
  },
});
const tree = (id: string) => [...ledger.trees.values()].find((one) => one.id === id) ?? never();
function never(): never {
  throw new Error('no such tree');
}

test('runs from the first to the last ripe pick of all past seasons', () => {
  expect(pickWindows(ledger, 2026)(tree('G1'), 'main')).toEqual({
    first: '2026-08-30',
    last: '2026-10-04',
    seasons: [2024, 2025],
    from: 'tree',
  });
});

test('a tree that was never picked goes by its cultivar, and a new cultivar by nothing', () => {
  expect(pickWindows(ledger, 2025)(tree('G2'), 'main')).toMatchObject({
    first: '2025-08-30',
    last: '2025-09-20',
    from: 'cultivar',
  });
  expect(pickWindows(ledger, 2026)(tree('Q1'), 'main')).toBeUndefined();
  expect(pickWindows(ledger, 2026)(tree('G1'), 'early')).toBeUndefined();
  expect(pickWindows(ledger, 2024)(tree('G1'), 'main')).toBeUndefined();
});

test('days keep their place in the calendar through leap years', () => {
  expect(sameDayIn(day('2024-02-29'), 1)).toBe('2025-02-28');
  expect(sameDayIn(day('2024-02-29'), 4)).toBe('2028-02-29');
  expect(sameDayIn(day('2023-09-01'), 1)).toBe('2024-09-01');
});
