import { describe, expect, it } from 'vitest';
import { threeTrees } from '../../tests/support/build-ledger.ts';
import { cropRecords } from './crop-record.ts';
import { soundnessFigures } from './soundness-figures.ts';

describe('soundness', () => {
  it('of nothing picked is unknown, not nought', () => {
    const ledger = threeTrees({ 2026: { drops: [{ on: '2026-08-01', tree: 'G1', fruit: 4 }] } });
    expect(soundnessFigures(cropRecords(ledger), 0.95)).toMatchObject({
      fruit: 0,
      sound: 0,
      share: undefined,
      low: undefined,
      high: undefined,
      dropped: 4,
    });
  });
});
