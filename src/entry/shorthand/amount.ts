import { bareUnit, type Dimension, parseQuantity, type UnitSystem } from '../../model/quantity.ts';

/** A number as typed, ready for the file. */
export type Amount =
  | { readonly kind: 'amount'; readonly written: number | string }
  /** A comma that may be a decimal sign or part two numbers. */
  | { readonly kind: 'unclear'; readonly decimal: string; readonly apart: string }
  | { readonly kind: 'none' };

const NUMBER = /^([+-]?(?:\d+(?:[.,]\d+)*|[.,]\d+)),?(\D.*)?$/u;

/** Whether a word begins like a number. */
export function looksNumeric(text: string): boolean {
  return /^[+-]?[.,]?\d/.test(text);
}

/**
 * A plain number. A comma with one digit behind it is a decimal sign; with three it may part
 * thousands, with two in a list it may part two numbers: those are asked about.
 *
 * @param inList whether several numbers may stand here, so that a comma may part two of them
 */
export function readNumber(text: string, inList = false): Amount {
  const [, number = '', unit] = NUMBER.exec(text) ?? [];
  return number === '' || unit !== undefined ? NONE : decimalOf(number, inList);
}

/** A number with an optional unit, kept as text where the unit is not the ledger's own. */
export function readAmount(
  text: string,
  dimension: Dimension,
  units: UnitSystem,
  inList = false,
): Amount {
  const [, number = '', tail] = NUMBER.exec(text) ?? [];
  if (number === '') return NONE;
  const unit = tail?.trim().replace(/,$/, '');
  const amount = decimalOf(number, inList);
  if (amount.kind !== 'amount' || unit === undefined || unit === '') return amount;
  const written = `${amount.written} ${unit}`;
  if (parseQuantity(written, dimension, units) === undefined) return NONE;
  return unit === bareUnit(units, dimension) ? amount : { kind: 'amount', written };
}

const NONE: Amount = { kind: 'none' };

function decimalOf(number: string, inList: boolean): Amount {
  if (!number.includes(',')) {
    return number.split('.').length > 2 ? NONE : { kind: 'amount', written: Number(number) };
  }
  const found = /^([+-]?\d*),(\d+)$/.exec(number);
  // A full stop and a comma, or two commas: no decimal sign, but several numbers run together.
  if (found === null) return NONE;
  const [, whole = '', fraction = ''] = found;
  const decimal = `${whole === '' ? '0' : whole}.${fraction}`;
  if (fraction.length === 3) return { kind: 'unclear', decimal, apart: `${whole}${fraction}` };
  if (fraction.length === 2 && inList) {
    return { kind: 'unclear', decimal, apart: `${whole} ${fraction}` };
  }
  return { kind: 'amount', written: Number(decimal) };
}
