import { parse } from 'csv-parse/sync';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { anyReport } from '../../tests/support/report-arbitrary.ts';
import { sampleReport } from '../../tests/support/report-sample.ts';
import type { Cell, Column } from '../report/table.ts';
import { visible } from '../source/visible.ts';
import { renderCsv } from './csv.ts';

const name: Column = { key: 'name', label: 'Cultivar', kind: 'text', drop: 0 };
const note: Column = { key: 'note', label: 'Note', kind: 'text', drop: 0 };
const load: Column = { key: 'load', label: 'Load', kind: 'integer', drop: 0 };
const linesOf = (rows: readonly Readonly<Record<string, Cell>>[], columns = [name, load]) =>
  renderCsv(sampleReport({ columns, rows })).split('\n');

test('a header of keys, every digit, nothing for null', () => {
  expect(renderCsv(sampleReport()).split('\n').slice(0, 4)).toEqual([
    'tree,cultivar,site,season,load,branches,fruitPerBranch,fruitPerBranchLow,fruitPerBranchHigh,pickedShare,pickedWeight,trunkArea,yieldEfficiency,treeKey',
    'G3,Amber Lantern,glasshouse,2026,21,8,2.625,1.95,3.3,0.952,1114,16.05,69.40809968847351,g3',
    'Y1,Amber Lantern,south wall,2026,12,6,2,0.8,12.25,0.75,430.5,9.9,43.484848484848484,y1',
    'P2,Black Harbour Late,pots by the shed,2026,4,7,0.5714285714285714,,,0.5,61,,,p2',
  ]);
});

test('quotes where RFC 4180 asks for them', () => {
  expect(linesOf([{ name: 'a,b "c"', load: 1 }])[1]).toBe('"a,b ""c""",1');
  expect(renderCsv(sampleReport({ columns: [name], rows: [{ name: 'a\r\nb' }] }))).toBe(
    'name\n"a\nb"\n',
  );
});

test('text that a spreadsheet would run is defused, numbers are not', () => {
  const texts = ['=1+1', '+cmd', '-x', '@SUM(A1)', '\t=1', "'=1", '-5', '+1.5e3', "'Amber'"];
  const names = linesOf(texts.map((one) => ({ name: one, load: -5 })));
  expect(names.slice(1, -1)).toEqual([
    ...["'=1+1,-5", "'+cmd,-5", "'-x,-5", "'@SUM(A1),-5", '"\'\t=1",-5', "''=1,-5"],
    ...['-5,-5', '+1.5e3,-5', "'Amber',-5"],
  ]);
});

test('yes and no are true and false, minus zero is zero', () => {
  expect(linesOf([{ name: true, load: -0 }])[1]).toBe('true,0');
});

test('a report without rows is its header', () => {
  expect(linesOf([])).toEqual(['name,load', '']);
});

test('NaN and Infinity are refused', () => {
  expect(() => linesOf([{ name: 'x', load: Number.NaN }])).toThrow(RangeError);
});

/** What a cell reads as once the apostrophe is taken away. */
function expected(cell: Cell | undefined): string {
  if (cell === null || cell === undefined) return '';
  return String(Object.is(cell, -0) ? 0 : cell)
    .replace(/\r\n?/g, '\n')
    .replace(/[^\n\t]+/g, visible);
}

// The reading side is csv-parse, a general CSV reader.
test('whatever a ledger holds reads back', () => {
  fc.assert(
    fc.property(anyReport, (report) => {
      const text = renderCsv(report);
      expect(text).not.toMatch(/[^\P{Cc}\n\t]|\p{Cs}/u);
      const [header, ...records] = parse(text, { relax_column_count: false }) as string[][];
      expect(header).toEqual(report.columns.map((column) => column.key));
      const plain = records.map((record) =>
        record.map((field) => (/^'+[=+\-@\t\n＝＋－＠]/.test(field) ? field.slice(1) : field)),
      );
      expect(plain).toEqual(
        report.rows.map((row) => report.columns.map((column) => expected(row[column.key]))),
      );
    }),
    { numRuns: 500 },
  );
});

test('no record of text begins like a formula', () => {
  fc.assert(
    fc.property(fc.string(), (text) => {
      const csv = renderCsv(
        sampleReport({ columns: [name, note], rows: [{ name: text, note: null }] }),
      );
      const [, record] = parse(csv) as string[][];
      const field = record?.[0] ?? '';
      if (Number.isNaN(Number(field))) expect(field).not.toMatch(/^[=+\-@\t\r]/);
    }),
  );
});
