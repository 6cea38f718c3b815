import { expect, test } from 'vitest';
import { sampleReport } from '../../tests/support/report-sample.ts';
import type { Column, Row } from '../report/table.ts';
import { peopleColumns } from './people-columns.ts';

const low: Column = {
  ...{ key: 'low', label: '95% interval', unit: 'g', kind: 'number', digits: 1, drop: 3 },
  upTo: 'high',
};
const high: Column = { key: 'high', label: 'Upper end', kind: 'number', digits: 1, drop: 3 };
const cultivar: Column = { key: 'cultivar', label: 'Cultivar', kind: 'text', drop: 0 };

const cellsOf = (columns: readonly Column[], rows: readonly Row[], padEnds = true) =>
  peopleColumns(sampleReport({ columns, rows }), { joiner: '–', padEnds }).map((one) => one.cells);

test('an interval is one column, with the label and unit of its lower end', () => {
  const [interval, ...others] = peopleColumns(
    sampleReport({ columns: [low, high], rows: [{ low: 41.5, high: 58.25 }] }),
    { joiner: '–', padEnds: false },
  );
  expect(others).toEqual([]);
  expect(interval).toEqual({
    ...{ key: 'low', header: '95% interval (g)', align: 'right', drop: 3 },
    cells: ['41.5–58.3'],
  });
});

test('both ends of intervals stand under each other', () => {
  const rows = [
    { low: 9.5, high: 9.9 },
    { low: 10, high: 110 },
    { low: null, high: null },
  ];
  expect(cellsOf([low, high], rows)).toEqual([[' 9.5–  9.9', '10.0–110.0', '']]);
  expect(cellsOf([low, high], rows, false)).toEqual([['9.5–9.9', '10.0–110.0', '']]);
});

test('days stand as people say them, with the year where there are several', () => {
  const day: Column = { key: 'day', label: 'First pick', kind: 'date', drop: 0 };
  const rows = [{ day: '2026-07-31' }, { day: null }, { day: '2026-08-05' }];
  expect(cellsOf([day], rows)).toEqual([['31 Jul', '', '5 Aug']]);
  expect(cellsOf([day], [...rows, { day: '2025-07-20' }, { day: '2024' }])).toEqual([
    ['31 Jul 2026', '', '5 Aug 2026', '20 Jul 2025', '2024'],
  ]);
  // A season over New Year begins in the year before it.
  const seasons = [
    { season: '2026', day: '2026-03-10' },
    { season: '2026', day: '2025-12-20' },
  ];
  expect(cellsOf([day], seasons)).toEqual([['10 Mar', '20 Dec 2025']]);
  // What is in words already stays so.
  expect(cellsOf([day], [{ day: '7 August' }, { day: '30 July' }])).toEqual([
    ['7 August', '30 July'],
  ]);
});

test('a dash never stands beside a minus', () => {
  const rows = [
    { low: -1, high: 2 },
    { low: 1, high: 3 },
  ];
  expect(cellsOf([low, high], rows)).toEqual([['-1.0 to 2.0', ' 1.0 to 3.0']]);
});

test('ends that do not stand next to each other stay two columns', () => {
  expect(cellsOf([low, cultivar, high], [{ low: 1, cultivar: 'x', high: 2 }])).toEqual([
    ['1.0'],
    ['x'],
    ['2.0'],
  ]);
});

test('what is for machines alone is not shown', () => {
  const columns = [cultivar, { ...high, machineOnly: true }];
  expect(cellsOf(columns, [{ cultivar: 'x', high: 2 }])).toEqual([['x']]);
  expect(cellsOf([low, { ...high, machineOnly: true }], [{ low: 1, high: 2 }])).toEqual([['1.0']]);
});

test('text is made safe and stands left, figures right', () => {
  const rows = [{ cultivar: '\u001b[31mAmber', high: 2 }];
  const columns = peopleColumns(sampleReport({ columns: [cultivar, high], rows }), {
    ...{ joiner: '–', padEnds: true },
  });
  expect(columns.map((one) => one.align)).toEqual(['left', 'right']);
  expect(columns[0]?.cells).toEqual(['\\u{1b}[31mAmber']);
});
