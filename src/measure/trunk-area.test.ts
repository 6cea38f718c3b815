import { describe, expect, it } from 'vitest';
import { threeTrees } from '../../tests/support/build-ledger.ts';
import { trunkAreaOf } from './trunk-area.ts';

describe('trunk area', () => {
  const ledger = threeTrees({
    2025: { growth: [{ on: '2025-03-01', tree: 'G1', girth: 10 }] },
    2026: {
      growth: [
        { on: '2026-09-01', tree: 'G1', girth: 14 },
        { on: '2026-03-01', tree: 'G1', girth: 12 },
        { on: '2026-11-01', tree: 'G1' },
      ],
    },
  });
  const [tree] = ledger.trees.values();
  if (tree === undefined) throw new Error('no tree');

  it.each([
    [2024, undefined],
    [2025, 100 / (4 * Math.PI)],
    [2026, 196 / (4 * Math.PI)],
    [2027, 196 / (4 * Math.PI)],
  ])('up to the end of %i is that of the latest girth by then', (season, expected) => {
    expect(trunkAreaOf(ledger, tree, season)).toBe(expected);
  });
});
