import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { completeBlock } from './complete-block.ts';

const table = (text: string) => text.split('|').map((row) => [...row.trim()].map((c) => c === 'x'));

describe('completeBlock', () => {
  it('is the whole table where nothing is missing', () => {
    expect(completeBlock(table('xxx|xxx'), 2, 2)).toEqual({ rows: [0, 1], columns: [0, 1, 2] });
  });

  it('leaves out what would make gaps', () => {
    expect(completeBlock(table('xxx.|xxx.|xxxx|..xx'), 2, 2)).toEqual({
      rows: [0, 1, 2],
      columns: [0, 1, 2],
    });
  });

  it('is none where too few rows share too few columns', () => {
    expect(completeBlock(table('x.|.x'), 2, 1)).toBeUndefined();
    expect(completeBlock(table('xx|xx'), 3, 2)).toBeUndefined();
    expect(completeBlock([], 1, 1)).toBeUndefined();
  });

  it('is as large as the largest found by trying every set of columns', () => {
    const tables = fc.array(fc.array(fc.boolean(), { minLength: 5, maxLength: 5 }), {
      minLength: 1,
      maxLength: 7,
    });
    fc.assert(
      fc.property(tables, (has) => {
        let most = 0;
        for (let set = 1; set < 2 ** 5; set++) {
          const columns = [0, 1, 2, 3, 4].filter((at) => (set >> at) % 2 === 1);
          const rows = has.filter((row) => columns.every((at) => row[at] === true));
          if (rows.length >= 2 && columns.length >= 2) {
            most = Math.max(most, rows.length * columns.length);
          }
        }
        const block = completeBlock(has, 2, 2);
        expect((block?.rows.length ?? 0) * (block?.columns.length ?? 0)).toBe(most);
        for (const row of block?.rows ?? []) {
          for (const column of block?.columns ?? []) expect(has[row]?.[column]).toBe(true);
        }
      }),
    );
  });
});
