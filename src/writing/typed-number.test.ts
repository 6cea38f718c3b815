import { expect, test } from 'vitest';
import {
  amountWords,
  decimalSignOf,
  readAmount,
  readNumber,
  type TypedDecimalSign,
} from './typed-number.ts';

/** What a text is read as: numbers, or readings behind a question mark, or nothing. */
function amount(text: string, sign: TypedDecimalSign, inList: boolean) {
  const read = readAmount(text, 'weight', 'metric', sign, inList);
  if (read.kind === 'read') return read.written;
  return read.kind === 'unclear' ? ['?', ...read.readings] : [];
}

test('of a weight alone a comma is the decimal sign unless it may part thousands', () => {
  expect(
    [
      '41',
      '41.5',
      '41,5',
      '52,47',
      '0,5',
      ',5',
      '1234,5',
      '1,234',
      '1,234.5',
      '1.234,5',
      '1,234,567',
    ].map((text) => amount(text, 'open', false)),
  ).toEqual([
    [41],
    [41.5],
    [41.5],
    [52.47],
    [0.5],
    [0.5],
    [1234.5],
    ['?', '1.234', '1234'],
    [1234.5],
    [1234.5],
    [1234567],
  ]);
  expect(
    ['52.4,47', '1.2.3', '4,', '52,,47', '1,2,3'].map((text) => amount(text, 'open', false)),
  ).toEqual([[], [], [4], [], []]);
});

test('in a list a comma may part fruit, never one of 41 and one of 5', () => {
  expect(
    ['41,5', '41,0', '52,05', '52.4,47', '52.4,47,61.3', '52,47,61', '120,115,130', '52.4,9'].map(
      (text) => amount(text, 'open', true),
    ),
  ).toEqual([
    [41.5],
    [41],
    [52.05],
    [52.4, 47],
    [52.4, 47, 61.3],
    [52, 47, 61],
    [120, 115, 130],
    [52.4, 9],
  ]);
  expect(
    ['52,47', '6,5', '120,115', '41,5,38,2', '6,5,7', '52.4,41,5', '1,234.5', '1.234,5'].map(
      (text) => amount(text, 'open', true),
    ),
  ).toEqual([
    ['?', '52.47', '52 47'],
    ['?', '6.5', '6 5'],
    ['?', '120.115', '120115', '120 115'],
    ['?', '41 5 38 2', '41.5 38.2'],
    ['?', '6 5 7'],
    ['?', '52.4 41 5'],
    ['?', '1234.5', '1 234.5'],
    ['?', '1234.5', '1.234 5'],
  ]);
});

test('where the comma is the decimal sign, it is so in a list too, and a point is doubted before thousands', () => {
  expect(
    ['6,5', '52,47', '120,115', '52.4', '52.4,47', '1.234,5', '12.5'].map((text) =>
      amount(text, 'comma', true),
    ),
  ).toEqual([[6.5], [52.47], [120.115], [52.4], [52.4, 47], [1234.5], [12.5]]);
  expect(['1.234', '41,5,38,2'].map((text) => amount(text, 'comma', true))).toEqual([
    ['?', '1,234', '1234'],
    ['?', '41,5 38,2'],
  ]);
  expect(amount('1,234', 'point', false)).toEqual([1234]);
});

test('a unit may stick to its number, and is of that number alone', () => {
  expect(['41,5g', '1,5 oz', '2.1oz', '41,5kg'].map((text) => amount(text, 'open', true))).toEqual([
    [41.5],
    ['1.5 oz'],
    ['2.1 oz'],
    ['41.5 kg'],
  ]);
  expect(amount('1.5,2oz', 'open', true)).toEqual([]);
  expect(amount('1.234g', 'comma', false)).toEqual(['?', '1,234g', '1234g']);
  expect(amount('41.5 stone', 'open', false)).toEqual([]);
  expect(readNumber('41,5g', 'open').kind).toBe('none');
  expect(amountWords('1.5 oz,2 oz; 41,5g 38 , 7')).toEqual([
    '1.5 oz',
    '2 oz',
    '41,5g',
    '38 ,',
    '7',
  ]);
});

test('the numbers of a line or table tell the decimal sign; else the ledger does', () => {
  const sign = (usual: 'comma' | 'point', ...texts: string[]) =>
    decimalSignOf(
      texts.map((text) => ({ text, inList: true })),
      usual,
    );
  expect(sign('point', '25,8', '31,4')).toBe('comma');
  expect(sign('point', '25,8', '52,47')).toBe('open');
  expect(sign('point', '25,8', '31,4', '52.4')).toBe('open');
  expect(sign('comma', '25', '12,5')).toBe('comma');
  expect(sign('comma', '61.375', '52.4')).toBe('open');
  expect(sign('comma', '61.375')).toBe('comma');
  expect(decimalSignOf([{ text: '1,234.5', inList: false }], 'comma')).toBe('point');
  expect(
    decimalSignOf(
      [
        { text: '1,234.5', inList: false },
        { text: '0,5', inList: false },
      ],
      'point',
    ),
  ).toBe('open');
});
