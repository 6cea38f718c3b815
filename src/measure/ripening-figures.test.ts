import { describe, expect, it } from 'vitest';
import { threeTrees } from '../../tests/support/build-ledger.ts';
import { cropRecords } from './crop-record.ts';
import { ripeningFigures } from './ripening-figures.ts';

describe('ripening', () => {
  const ledger = threeTrees(
    {
      2026: {
        counts: [{ on: '2026-07-01', tree: 'G1', fruit: 40 }],
        picks: [
          { on: '2026-08-20', tree: 'G1', fruit: 1 },
          { on: '2026-08-01', tree: 'G1', fruit: 1 },
          { on: '2026-08-10', tree: 'G1', fruit: 9 },
          { on: '2026-08-12', tree: 'G1', fruit: 9 },
          { on: '2026-07-25', tree: 'G1', fruit: 0 },
        ],
      },
    },
    { frost: { 2026: '2026-08-12' } },
  );

  it('is told by fruit, not by picks, and by days on which fruit was picked', () => {
    expect(ripeningFigures(ledger, cropRecords(ledger), 2026)).toMatchObject({
      first: '2026-08-01',
      p10: '2026-08-10',
      p50: '2026-08-10',
      p90: '2026-08-12',
      last: '2026-08-20',
      windowDays: 19,
    });
  });

  it('before frost is a share of the load, the day of the frost among it', () => {
    expect(ripeningFigures(ledger, cropRecords(ledger), 2026)?.shareBeforeFrost).toBe(19 / 40);
  });

  it('before an unknown frost is unknown, and without a pick there is none', () => {
    const bare = threeTrees({ 2026: { picks: [{ on: '2026-08-01', tree: 'G1', fruit: 4 }] } });
    const records = cropRecords(bare);
    expect(ripeningFigures(bare, records, 2026)?.shareBeforeFrost).toBeUndefined();
    expect(ripeningFigures(bare, [], 2026)).toBeUndefined();
  });
});
