import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { Column } from '../report/table.ts';
import { formatCell, formatInterval, unitFor } from './format-cell.ts';

const column = (kind: Column['kind'], digits?: number): Column => ({
  ...{ key: 'figure', label: 'Figure', kind, drop: 0 },
  ...(digits === undefined ? {} : { digits }),
});

test('21 fruit on 8 branches are 2.63 a branch', () => {
  expect(formatCell(21 / 8, column('number', 2))).toBe('2.63');
});

test('halves of the printed decimal go away from zero', () => {
  expect(formatCell(1.005, column('number', 2))).toBe('1.01');
  expect(formatCell(-2.5, column('integer'))).toBe('-3');
});

test('shares are percent, without a slip of binary arithmetic', () => {
  expect(formatCell(0.285, column('share'))).toBe('29');
  expect(formatCell(0.1235, column('share', 1))).toBe('12.4');
  expect(unitFor(column('share'))).toBe('%');
});

test('degrees have their sign in a head', () => {
  const unit = (text: string) => unitFor({ ...column('number'), unit: text });
  expect([unit('degC'), unit('degC d'), unit('g')]).toEqual(['°C', '°C days', 'g']);
});

test('nothing, yes and no, text and dates read as they are', () => {
  expect(formatCell(null, column('number', 2))).toBe('');
  expect(formatCell(undefined, column('text'))).toBe('');
  expect(formatCell(true, column('text'))).toBe('yes');
  expect(formatCell(false, column('text'))).toBe('no');
  expect(formatCell('2026-07-02', column('date'))).toBe('2026-07-02');
  expect(formatCell(2026, column('text'))).toBe('2026');
});

test('there is no minus zero and no grouping', () => {
  expect(formatCell(-0, column('number', 1))).toBe('0.0');
  expect(formatCell(-0.004, column('number', 2))).toBe('0.00');
  expect(formatCell(1234567, column('integer'))).toBe('1234567');
});

test('very small and very large figures are written out', () => {
  expect(formatCell(1e-9, column('number', 3))).toBe('0.000');
  expect(formatCell(1e-7, column('number', 7))).toBe('0.0000001');
  expect(formatCell(1e20, column('number', 1))).toBe('100000000000000000000.0');
});

test('NaN and Infinity are refused', () => {
  for (const wrong of [Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY]) {
    expect(() => formatCell(wrong, column('number', 2))).toThrow(RangeError);
  }
});

// The reference is the number format of ECMA-402 (Unicode CLDR and ICU), rounding `halfExpand`.
test('figures agree with Intl.NumberFormat', () => {
  const figure = fc.oneof(
    fc.double({ min: -1e6, max: 1e6, noNaN: true }),
    fc.integer({ min: -1e7, max: 1e7 }).map((thousandths) => thousandths / 1000),
  );
  for (const digits of [0, 1, 2, 3]) {
    for (const kind of ['number', 'share'] as const) {
      const format = new Intl.NumberFormat('en-US', {
        style: kind === 'share' ? 'percent' : 'decimal',
        useGrouping: false,
        minimumFractionDigits: digits,
        maximumFractionDigits: digits,
        signDisplay: 'negative',
      });
      fc.assert(
        fc.property(figure, (value) => {
          const expected = format.format(value).replace('%', '');
          expect(formatCell(value, column(kind, digits))).toBe(expected);
        }),
        { numRuns: 500 },
      );
    }
  }
});

test('an interval with one end says which', () => {
  expect(formatInterval('1.95', '3.30', '–')).toBe('1.95–3.30');
  expect(formatInterval('1.95', '3.30', ' to ')).toBe('1.95 to 3.30');
  expect(formatInterval('1.95', '', '–')).toBe('from 1.95');
  expect(formatInterval('', '3.30', '–')).toBe('up to 3.30');
  expect(formatInterval('', '', '–')).toBe('');
});
