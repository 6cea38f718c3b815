import { describe, expect, it } from 'vitest';
import { countColumn, dateColumn, textColumn } from './columns.ts';
import { UnknownColumn } from './named-column.ts';
import { orderRows } from './row-order.ts';

const columns = [
  textColumn('name', { label: 'Name', drop: 0 }),
  textColumn('crop', { label: 'Crop', drop: 0 }),
  countColumn('fruit', { label: 'Fruit', drop: 0 }),
  dateColumn('first', { label: 'First', drop: 0 }),
];
const rows = [
  { name: 'b', crop: 'main', fruit: 5, first: '2026-08-02' },
  { name: 'c', crop: 'early', fruit: null, first: '2026-07-02' },
  { name: 'a', crop: 'main', fruit: 9, first: null },
  { name: 'd', crop: 'early', fruit: 5, first: '2026-07-01' },
];
const own = { blocks: ['crop'], key: 'fruit' };
const names = (
  asked: { sort?: string; top?: number },
  by: typeof own | { blocks: string[] } = own,
) =>
  orderRows(columns, rows, by, asked)
    .rows.map((row) => row['name'])
    .join('');

describe('rows', () => {
  it('stand in blocks, each sorted from the greatest, where nothing is asked', () => {
    expect(names({})).toBe('dcab');
  });

  it('stay as they come where the report has no order', () => {
    expect(names({}, { blocks: [] })).toBe('bcad');
  });

  it.each([
    ['name', 'abcd'],
    ['name:desc', 'dcba'],
    ['fruit', 'abdc'],
    ['fruit:asc', 'bdac'],
    ['fruit:desc', 'abdc'],
    ['first', 'dcba'],
    ['first:desc', 'bcda'],
  ])('sorted by %s put blanks last and keep the order of equals', (sort, expected) => {
    expect(names({ sort })).toBe(expected);
  });

  it('cannot be sorted by a column that is not there', () => {
    expect(() => names({ sort: 'weight:asc' })).toThrow(UnknownColumn);
    expect(() => names({ sort: 'weight' })).toThrow(/"weight".*Name; Crop; Fruit; First/);
  });

  it('are cut within each block, and what is cut is said', () => {
    expect(names({ top: 1 })).toBe('da');
    expect(orderRows(columns, rows, own, { top: 1 }).cut).toBe(
      'The first row of each crop is shown; 2 rows left out.',
    );
  });

  it('are cut altogether where a sort is asked', () => {
    expect(names({ sort: 'fruit', top: 2 })).toBe('ab');
    expect(orderRows(columns, rows, own, { sort: 'fruit', top: 3 }).cut).toBe(
      'The first 3 rows are shown; 1 row left out.',
    );
  });

  it('that are few enough are not cut, and nothing is said', () => {
    expect(orderRows(columns, rows, own, { top: 4 })).toMatchObject({ cut: undefined });
  });
});
