import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { SeasonSketch } from '../../tests/support/build-ledger.ts';
import { buildLedger } from '../../tests/support/build-ledger.ts';
import type { CropRecord } from './crop-record.ts';
import { cropRecords, selectRecords } from './crop-record.ts';

function recordsOf(season: SeasonSketch): readonly CropRecord[] {
  return cropRecords(
    buildLedger({
      cultivars: { amber: { name: 'Amber Lantern' }, slate: { name: 'Slate Quay' } },
      trees: {
        G1: { cultivar: 'amber', site: 'glass' },
        Y1: { cultivar: 'slate', site: 'yard' },
      },
      seasons: { 2026: season },
    }),
  );
}

function only(season: SeasonSketch): CropRecord {
  const records = recordsOf(season);
  expect(records).toHaveLength(1);
  const [record] = records;
  if (record === undefined) throw new Error('no record');
  return record;
}

const count = (on: string, fruit: number, branches?: number) => ({
  on,
  tree: 'G1',
  fruit,
  ...(branches === undefined ? {} : { branches }),
});
const pick = (on: string, fruit: number) => ({ on, tree: 'G1', fruit });

describe('load', () => {
  it('is what a count found, where nothing was gone before it', () => {
    const record = only({ counts: [count('2026-07-02', 21, 8)], picks: [pick('2026-07-24', 3)] });
    expect(record.load).toMatchObject({ fruit: 21, from: 'count' });
    expect(record.branches).toBe(8);
  });

  it('adds what was picked and dropped before the count', () => {
    const record = only({
      picks: [pick('2026-07-01', 4)],
      drops: [pick('2026-06-20', 2)],
      counts: [count('2026-07-02', 21, 8)],
    });
    expect(record.load).toMatchObject({ fruit: 27, from: 'count' });
  });

  it('leaves out fruit gone on the day of the count, which still hung in it', () => {
    const record = only({
      picks: [pick('2026-07-02', 4)],
      drops: [pick('2026-07-02', 1)],
      counts: [count('2026-07-02', 21)],
    });
    expect(record.load.fruit).toBe(21);
  });

  it('takes the count that gives most, and the branches of that count', () => {
    const record = only({
      counts: [count('2026-07-02', 10, 8), count('2026-08-02', 15, 9), count('2026-09-01', 3, 11)],
      picks: [pick('2026-08-10', 11)],
    });
    expect(record.load.fruit).toBe(15);
    expect(record.branches).toBe(9);
  });

  it('takes the earlier of two counts that agree', () => {
    const record = only({
      counts: [count('2026-08-02', 10, 10), count('2026-07-02', 21, 8)],
      picks: [pick('2026-07-20', 11)],
    });
    expect(record.load).toMatchObject({ fruit: 21, count: { on: '2026-07-02' } });
    expect(record.branches).toBe(8);
  });

  it('is at least all that was picked and dropped', () => {
    const record = only({
      counts: [count('2026-07-02', 5, 8)],
      picks: [pick('2026-07-24', 6), pick('2026-07-29', 3)],
      drops: [pick('2026-07-20', 2)],
    });
    expect(record.load).toEqual({ fruit: 11, from: 'gathered' });
    expect(record.counted).toBe(true);
    expect(record.branches).toBe(8);
  });

  it('is what was gathered where no count was made', () => {
    const record = only({ picks: [pick('2026-07-24', 6)], drops: [pick('2026-07-20', 2)] });
    expect(record).toMatchObject({ load: { fruit: 8, from: 'gathered' }, counted: false });
    expect(record.branches).toBeUndefined();
  });

  it('is nought where a count found nothing', () => {
    const record = only({ counts: [count('2026-07-02', 0, 8)] });
    expect(record).toMatchObject({ load: { fruit: 0, from: 'count' }, picked: 0, branches: 8 });
  });

  it('is never below a count, nor below what was gathered, whatever the order of the file', () => {
    const entry = fc.record({
      kind: fc.constantFrom('counts', 'picks', 'drops'),
      day: fc.integer({ min: 1, max: 28 }),
      fruit: fc.integer({ min: 0, max: 40 }),
    });
    const season = (entries: readonly { kind: string; day: number; fruit: number }[]) => {
      const of = (kind: string) =>
        entries
          .filter((one) => one.kind === kind)
          .map(({ day, fruit }) => pick(`2026-07-${String(day).padStart(2, '0')}`, fruit));
      return { counts: of('counts'), picks: of('picks'), drops: of('drops') };
    };
    fc.assert(
      fc.property(fc.array(entry, { minLength: 1, maxLength: 12 }), (entries) => {
        const record = only(season(entries));
        const gathered = record.picked + record.dropped;
        const counts = entries.filter(({ kind }) => kind === 'counts');
        expect(record.load.fruit).toBeGreaterThanOrEqual(gathered);
        for (const { fruit } of counts) expect(record.load.fruit).toBeGreaterThanOrEqual(fruit);
        expect(record.load.fruit).toBeLessThanOrEqual(
          gathered + Math.max(0, ...counts.map(({ fruit }) => fruit)),
        );
        expect(only(season(entries.toReversed())).load.fruit).toBe(record.load.fruit);
      }),
    );
  });
});

describe('branches', () => {
  it('come from the last count of the crop that has them, where the load has none', () => {
    const record = only({
      counts: [count('2026-06-01', 3, 7), count('2026-06-20', 4, 9), count('2026-07-02', 21)],
    });
    expect(record.branches).toBe(9);
  });

  it('come from the other crop where this one was counted without', () => {
    const [early, main] = recordsOf({
      counts: [{ ...count('2026-06-01', 3, 7), crop: 'early' }, count('2026-07-02', 21)],
    });
    expect(early).toMatchObject({ crop: 'early', branches: 7 });
    expect(main).toMatchObject({ crop: 'main', branches: 7 });
  });

  it('come from the own crop before a later count of the other', () => {
    const [early] = recordsOf({
      counts: [
        { ...count('2026-06-01', 3, 7), crop: 'early' },
        { ...count('2026-06-09', 9), crop: 'early' },
        count('2026-08-02', 21, 12),
      ],
    });
    expect(early?.branches).toBe(7);
  });

  it('are not taken from another tree', () => {
    const [, yard] = recordsOf({
      counts: [count('2026-07-02', 21, 8), { on: '2026-07-02', tree: 'Y1', fruit: 4 }],
    });
    expect(yard).toMatchObject({ tree: { id: 'Y1' }, branches: undefined });
  });
});

describe('site', () => {
  const events = [{ on: '2026-07-10', tree: 'G1', kind: 'move' as const, site: 'yard' }];

  it('is where the tree stood on the day of the count that gave the load', () => {
    const season = { events, picks: [pick('2026-07-24', 3)] };
    expect(only({ ...season, counts: [count('2026-07-02', 21)] }).site).toBe('glass');
    expect(only({ ...season, counts: [count('2026-07-10', 21)] }).site).toBe('yard');
  });

  it('is where it stood at the first pick or drop, where no count gave the load', () => {
    expect(only({ events, picks: [pick('2026-07-24', 3)] }).site).toBe('yard');
    const dropped = only({
      events,
      picks: [pick('2026-07-24', 3)],
      drops: [pick('2026-07-01', 1)],
    });
    expect(dropped.site).toBe('glass');
  });
});

describe('records', () => {
  const ledger = buildLedger({
    cultivars: { amber: { name: 'Amber Lantern' }, slate: { name: 'Slate Quay' } },
    trees: {
      G1: { cultivar: 'amber', site: 'glass' },
      Y1: { cultivar: 'slate' },
      Y2: { cultivar: 'slate' },
    },
    seasons: {
      2025: { picks: [{ on: '2025-08-01', tree: 'Y1', fruit: 2 }] },
      2026: {
        picks: [
          { on: '2026-08-01', tree: 'Y1', fruit: 2, split: 1, bird: 1 },
          { on: '2026-08-01', tree: 'G1', fruit: 4, insect: 2 },
          { on: '2026-07-01', tree: 'G1', crop: 'early', fruit: 1 },
          { on: '2026-07-30', tree: 'Y1', fruit: 3, split: 1 },
        ],
      },
    },
  });
  const names = (records: readonly CropRecord[]) =>
    records.map(({ season, tree, crop }) => `${season} ${tree.id} ${crop}`);

  it('stand by season, tree and crop, and only for what was seen', () => {
    expect(names(cropRecords(ledger))).toEqual([
      '2025 Y1 main',
      '2026 G1 early',
      '2026 G1 main',
      '2026 Y1 main',
    ]);
  });

  it('add up picks and defects, picks by date', () => {
    const [yard] = selectRecords(ledger, { seasons: [2026], trees: ['Y1'] });
    expect(yard).toMatchObject({
      picked: 5,
      defects: { split: 2, bird: 1, insect: 0, mould: 0, unripe: 0 },
    });
    expect(yard?.picks.map(({ on }) => on)).toEqual(['2026-07-30', '2026-08-01']);
  });

  it.each([
    [{}, 4],
    [{ seasons: [] }, 4],
    [{ seasons: [2025] }, 1],
    [{ crops: ['early' as const] }, 1],
    [{ sites: ['glass'] }, 2],
    [{ cultivars: ['slate'] }, 2],
    [{ trees: ['G1'], crops: ['main' as const] }, 1],
    [{ sites: ['glass'], cultivars: ['slate'] }, 0],
  ])('of the selection %j are %i', (selection, expected) => {
    expect(selectRecords(ledger, selection)).toHaveLength(expected);
  });
});
