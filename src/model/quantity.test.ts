import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Dimension } from './quantity.ts';
import { bareUnit, parseQuantity, unitNames } from './quantity.ts';

const metric = (written: number | string, dimension: Dimension) =>
  parseQuantity(written, dimension, 'metric');

describe('quantities', () => {
  // NIST Special Publication 811 (2008), appendix B.8: the factors that it prints in bold are exact.
  it.each([
    ['1 lb', 'weight', 453.59237],
    ['1 lbs', 'weight', 453.59237],
    ['1 oz', 'weight', 28.349523125],
    ['16 oz', 'weight', 453.59237],
    ['1.5 lb', 'weight', 680.388555],
    // 18 oz and 63 in, by the same factors.
    ['1 lb 2 oz', 'weight', 510.29141625],
    ['1lb 2oz', 'weight', 510.29141625],
    ['2 lbs, 0.5 oz', 'weight', 921.3595015625],
    ['5 ft 3 in', 'height', 160.02],
    ['5\' 3"', 'height', 160.02],
    ['0.25 kg', 'weight', 250],
    ['500 mg', 'weight', 0.5],
    ['1 in', 'girth', 2.54],
    ['1 in', 'width', 25.4],
    ['1 ft', 'height', 30.48],
    ['12 in', 'height', 30.48],
    ['38 in', 'girth', 96.52],
    ['14.2 cm', 'girth', 14.2],
    ['142 mm', 'girth', 14.2],
    ['0.142 m', 'girth', 14.2],
    ['3 mm', 'width', 3],
    ['0.3 cm', 'width', 3],
    // 231 cubic inches: SP 811 prints 3.785412 E-03 m3, rounded; the rest follows from the inch.
    ['1 US gal', 'volume', 3.785411784],
    ['1 UK gal', 'volume', 4.54609],
    ['20 L', 'volume', 20],
    ['750 ml', 'volume', 0.75],
  ] as const)('%s of %s is %d', (written, dimension, expected) => {
    expect(metric(written, dimension)).toBe(expected);
  });

  // SP 811, B.8: t/degC = (t/degF - 32) / 1.8. Fixed points: ice, steam, and where both agree.
  it.each([
    ['32 degF', 0],
    ['212 °F', 100],
    ['-40 F', -40],
    ['50 degF', 10],
    ['-3.5 degC', -3.5],
    ['4 °C', 4],
  ])('%s is %d degC', (written, expected) => {
    expect(metric(written, 'temperature')).toBe(expected);
  });

  it('without a unit are in the ledger system', () => {
    expect(parseQuantity(12, 'weight', 'metric')).toBe(12);
    expect(parseQuantity(16, 'weight', 'imperial')).toBe(453.59237);
    expect(parseQuantity('16', 'weight', 'imperial')).toBe(453.59237);
    expect(parseQuantity(10, 'girth', 'imperial')).toBe(25.4);
    expect(parseQuantity(1, 'width', 'imperial')).toBe(25.4);
    expect(parseQuantity(50, 'temperature', 'imperial')).toBe(10);
    expect(parseQuantity(2, 'volume', 'imperial')).toBe(9.09218);
    expect(parseQuantity('12 g', 'weight', 'imperial')).toBe(12);
  });

  it('may be set close or wide', () => {
    expect(metric('  12oz ', 'weight')).toBe(340.1942775);
    expect(metric('.5 kg', 'weight')).toBe(500);
    expect(metric('+3 g', 'weight')).toBe(3);
  });

  it.each([
    '',
    'g',
    'twelve',
    '12 stone',
    '12 cm',
    '1,5 kg',
    '1e3 g',
    '1.5.2 g',
    '12 g 3',
    '1 lb 16 oz',
    '1 lb 2',
    '1.5 lb 2 oz',
    '2 oz 1 lb',
    'NaN',
  ])('cannot be read from "%s"', (written) => {
    expect(metric(written, 'weight')).toBeUndefined();
  });

  it.each([Number.NaN, Number.POSITIVE_INFINITY, 1e300, 1e-9])('cannot be %d', (written) => {
    expect(metric(written, 'weight')).toBeUndefined();
  });

  it('are the double nearest to the exact decimal, however many are added to a pound', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 99_999_999 }), (thousandths) => {
        const written = `${Math.trunc(thousandths / 1000)}.${String(thousandths % 1000).padStart(3, '0')}`;
        // The same product in whole numbers: 453.59237 g are 45359237 hundred-thousandths of a g.
        const exact = Number(`${BigInt(thousandths) * 45_359_237n}e-8`);
        expect(metric(`${written} lb`, 'weight')).toBe(exact);
        expect(metric(`-${written} lb`, 'weight')).toBe(-exact);
        expect(metric(Number(written), 'weight')).toBe(Number(written));
      }),
    );
  });

  it('name their units for messages, the bare one among them', () => {
    for (const dimension of [
      'weight',
      'girth',
      'width',
      'height',
      'temperature',
      'volume',
    ] as const) {
      expect(unitNames(dimension)).toContain(bareUnit('metric', dimension));
      expect(unitNames(dimension)).toContain(bareUnit('imperial', dimension));
      for (const unit of unitNames(dimension)) {
        expect(metric(`1 ${unit}`, dimension)).toEqual(expect.any(Number));
      }
    }
  });
});
