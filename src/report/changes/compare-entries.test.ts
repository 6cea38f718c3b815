import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { compareEntries, type EntryChange } from './compare-entries.ts';
import type { Entry } from './ledger-entries.ts';

const NOBODY = { name: undefined, tree: undefined, crop: undefined, cultivar: undefined } as const;

function pick(tree: string, on: string, fields: Entry['fields']): Entry {
  return { ...NOBODY, kind: 'pick', tree, crop: 'main', on, fields };
}

describe('comparing entries', () => {
  test('takes entries of one tree, crop and day for one that was altered', () => {
    const before = pick('G3', '2026-09-01', { fruit: 3, split: 1 });
    const after = pick('G3', '2026-09-01', { fruit: 4, note: 'wet' });
    expect(compareEntries([before], [after])).toEqual([
      {
        what: 'altered',
        entry: after,
        fields: [
          { field: 'fruit', before: 3, after: 4 },
          { field: 'split', before: 1, after: undefined },
          { field: 'note', before: undefined, after: 'wet' },
        ],
      },
    ]);
  });

  test('pairs those that differ least', () => {
    const small = pick('G3', '2026-09-01', { fruit: 3, weight: 100, split: 1 });
    const large = pick('G3', '2026-09-01', { fruit: 9, weight: 400, split: 2 });
    const largeNow = pick('G3', '2026-09-01', { fruit: 9, weight: 410, split: 2 });
    const smallNow = pick('G3', '2026-09-01', { fruit: 3, weight: 120, split: 0 });
    const altered = compareEntries([small, large], [largeNow, smallNow]);
    expect(altered.map(({ entry }) => entry)).toEqual([largeNow, smallNow]);
    expect(altered.map((one) => one.what === 'altered' && one.fields.length)).toEqual([1, 2]);
  });

  test('sees a corrected day, but not where anything else differs', () => {
    const before = pick('G3', '2026-09-01', { fruit: 3 });
    const later = pick('G3', '2026-09-02', { fruit: 3 });
    expect(compareEntries([before], [later])).toEqual([
      {
        what: 'altered',
        entry: later,
        fields: [{ field: 'on', before: '2026-09-01', after: '2026-09-02' }],
      },
    ]);
    const other = pick('G3', '2026-09-02', { fruit: 4 });
    expect(whats(compareEntries([before], [other]))).toEqual(['removed', 'added']);
  });

  test('counts equal entries: the second of two is one more', () => {
    const one = pick('G3', '2026-09-01', { fruit: 3 });
    const twin = pick('G3', '2026-09-01', { fruit: 3 });
    expect(whats(compareEntries([one], [one, twin]))).toEqual(['added']);
    expect(whats(compareEntries([one, twin], [one]))).toEqual(['removed']);
  });

  test('keeps the events of a day apart by their kind', () => {
    const water: Entry = { ...pick('G3', '2026-09-01', { kind: 'water' }), kind: 'event' };
    const feed: Entry = { ...pick('G3', '2026-09-01', { kind: 'feed' }), kind: 'event' };
    expect(whats(compareEntries([water], [feed])).toSorted()).toEqual(['added', 'removed']);
  });
});

function whats(changes: readonly EntryChange[]): readonly string[] {
  return changes.map(({ what }) => what);
}

const anyEntry = fc
  .record({
    tree: fc.constantFrom('G3', 'Y1'),
    day: fc.constantFrom('2026-09-01', '2026-09-02'),
    fruit: fc.integer({ min: 0, max: 3 }),
    note: fc.option(fc.constantFrom('wet', 'dry'), { nil: undefined }),
  })
  .map(({ tree, day, fruit, note }) =>
    pick(tree, day, note === undefined ? { fruit } : { fruit, note }),
  );
const anyEntries = fc.array(anyEntry, { maxLength: 8 });

describe('whatever the entries', () => {
  test('a ledger in another order is the same ledger', () => {
    fc.assert(
      fc.property(
        anyEntries.chain((entries) =>
          fc.tuple(
            fc.constant(entries),
            fc.shuffledSubarray(entries, { minLength: entries.length }),
          ),
        ),
        ([entries, shuffled]) => {
          expect(compareEntries(entries, shuffled)).toEqual([]);
        },
      ),
    );
  });

  test('what is told accounts for every entry', () => {
    fc.assert(
      fc.property(anyEntries, anyEntries, (before, after) => {
        const told = whats(compareEntries(before, after));
        const added = told.filter((what) => what === 'added').length;
        const removed = told.filter((what) => what === 'removed').length;
        expect(after.length - before.length).toBe(added - removed);
        // The other way round the same entries come, go and change.
        expect(whats(compareEntries(after, before)).length).toBe(told.length);
      }),
    );
  });
});
