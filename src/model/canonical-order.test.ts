import { describe, expect, it } from 'vitest';
import { byDate, byKey, compareKeys } from './canonical-order.ts';

describe('keys', () => {
  it('go as people count, and letters by their code', () => {
    const keys = ['Y10', 'Y2', 'y1', 'Y02', 'G3', '12', '7', 'Y2a', 'ä', 'Y'];
    expect(keys.toSorted(compareKeys)).toEqual([
      ...['7', '12', 'G3', 'Y', 'Y02', 'Y2', 'Y2a', 'Y10', 'y1', 'ä'],
    ]);
  });

  it('are equal only where they are the same, and never in a circle', () => {
    const keys = ['a1', 'a01', 'a001', 'a1b', 'a01b', 'a', '1', '01', 'a1b2', 'a1b02', ''];
    for (const a of keys) {
      for (const b of keys) {
        expect(Math.sign(compareKeys(a, b)) + Math.sign(compareKeys(b, a))).toBe(0);
        expect(compareKeys(a, b) === 0).toBe(a === b);
        for (const c of keys) {
          if (compareKeys(a, b) < 0 && compareKeys(b, c) < 0) {
            expect(compareKeys(a, c)).toBeLessThan(0);
          }
        }
      }
    }
  });

  it('hold numbers of any length', () => {
    expect(compareKeys('x99999999999999999998', 'x99999999999999999999')).toBeLessThan(0);
  });

  it('put entries of a map in order', () => {
    expect(
      byKey([
        ['b', 1],
        ['a', 2],
      ]).map(([key]) => key),
    ).toEqual(['a', 'b']);
  });
});

describe('entries', () => {
  const entry = (on: string, id: string, fruit: number) => ({ on, tree: { id }, fruit }) as never;

  it('go by date, tree, and then by what they say, whichever way they came', () => {
    const all = [
      entry('2026-07-02', 'G3', 5),
      entry('2026-07-02', 'G3', 7),
      entry('2026-07-02', 'G10', 1),
      entry('2026-07-11', 'A1', 1),
    ];
    expect(byDate(all)).toEqual(all);
    expect(byDate(all.toReversed())).toEqual(all);
  });
});
