import fc from 'fast-check';
import { expect, test } from 'vitest';
import { anyReport, STEERING } from '../../tests/support/report-arbitrary.ts';
import { sampleReport } from '../../tests/support/report-sample.ts';
import { renderJson } from './json.ts';

test('one object with the keys of the contract, in their order', () => {
  const text = renderJson(sampleReport());
  const read = JSON.parse(text);
  expect(Object.keys(read)).toEqual([
    ...['report', 'ledger', 'selection', 'columns', 'rows', 'notes'],
  ]);
  expect(read.ledger).toEqual({ title: 'Tidewrack Lane fig trial' });
  expect(read.columns[4]).toEqual({ key: 'load', label: 'Load', unit: 'fruit' });
  expect(read.columns[0].unit).toBeNull();
  expect(read.rows[0].fruitPerBranch).toBe(2.625);
  expect(read.rows[2].fruitPerBranchLow).toBeNull();
  expect(read.rows[0].treeKey).toBe('g3');
  expect(text.startsWith('{\n  "report": "yield",\n')).toBe(true);
});

test('a share runs from 0 to 1 and so has no unit', () => {
  const columns = [{ key: 's', label: 'Picked', kind: 'share', unit: '%', drop: 0 } as const];
  const read = JSON.parse(renderJson(sampleReport({ columns, rows: [{ s: 0.5 }] })));
  expect(read.columns).toEqual([{ key: 's', label: 'Picked', unit: null }]);
  expect(read.rows).toEqual([{ s: 0.5 }]);
});

test('a figure that a row does not have is null', () => {
  const columns = [{ key: 'load', label: 'Load', kind: 'integer', drop: 0 } as const];
  expect(JSON.parse(renderJson(sampleReport({ columns, rows: [{}] }))).rows).toEqual([
    { load: null },
  ]);
});

test('NaN and Infinity are refused, not turned into null', () => {
  for (const wrong of [Number.NaN, Number.NEGATIVE_INFINITY]) {
    const columns = [{ key: 'load', label: 'Load', kind: 'integer', drop: 0 } as const];
    expect(() => renderJson(sampleReport({ columns, rows: [{ load: wrong }] }))).toThrow(
      RangeError,
    );
  }
});

test('whatever a ledger holds reads back to the last digit, and steers no terminal', () => {
  fc.assert(
    fc.property(anyReport, (report) => {
      const text = renderJson(report);
      expect(text).not.toMatch(STEERING);
      expect(text).toMatch(/}\n$/);
      const read = JSON.parse(text);
      const rows = report.rows.map((row) =>
        Object.fromEntries(
          Object.entries(row).map(([key, cell]) => [key, Object.is(cell, -0) ? 0 : cell]),
        ),
      );
      expect(read.rows).toEqual(rows);
      expect(read.notes).toEqual(report.notes.map((note) => ({ ...note })));
      expect(read.selection).toEqual(report.selection);
      expect(read.title).toBeUndefined();
    }),
  );
});
