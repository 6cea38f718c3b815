import { bareUnit, type Dimension, parseQuantity, type UnitSystem } from '../model/quantity.ts';

/**
 * What the comma and the full stop mean in numbers as people type them. This is the one reader of
 * such numbers: typed lines, options of the command line and cells of a table all come here, so
 * that the same letters give the same number by every door, or are doubted by every door.
 *
 * A number that can be read in one way only is read; one that can be read in two ways is `unclear`,
 * whatever the fruit weighed before, since a reading that hangs on earlier entries would change
 * with them. What makes a reading certain is the number itself, the setting of the ledger, and the
 * other numbers of the line or table.
 */

/** The decimal sign in use; `open` where nothing tells, which reads 52.4 and doubts 1,234. */
export type TypedDecimalSign = 'comma' | 'point' | 'open';

/** Numbers as typed, ready for the file. */
export type TypedNumbers =
  /** One, or several where commas part them. */
  | { readonly kind: 'read'; readonly written: readonly (number | string)[] }
  /** Every reading as it would be typed without a doubt: `52.47`, `52 47`. */
  | { readonly kind: 'unclear'; readonly readings: readonly string[] }
  | { readonly kind: 'none' };

const NUMBER = /^([+-]?(?:\d+(?:[.,]\d+)*|[.,]\d+)),?(\D.*)?$/u;
const NONE: TypedNumbers = { kind: 'none' };

/** Whether a word begins like a number. */
export function looksNumeric(text: string): boolean {
  return /^[+-]?[.,]?\d/.test(text);
}

/**
 * A plain number, without a unit.
 *
 * @param inList whether several numbers may stand here, so that a comma may part them
 */
export function readNumber(text: string, sign: TypedDecimalSign, inList = false): TypedNumbers {
  const [, number = '', unit] = NUMBER.exec(text) ?? [];
  return number === '' || unit !== undefined
    ? NONE
    : settled(waysOf(number, sign, inList), sign, (one) => Number(one));
}

/** A number with an optional unit, kept as text where the unit is not the ledger's own. */
export function readAmount(
  text: string,
  dimension: Dimension,
  units: UnitSystem,
  sign: TypedDecimalSign,
  inList = false,
): TypedNumbers {
  const [, number = '', tail = ''] = NUMBER.exec(text) ?? [];
  if (number === '') return NONE;
  const unit = tail.trim().replace(/,$/, '');
  const isBare = unit === '' || unit === bareUnit(units, dimension);
  if (!isBare && parseQuantity(`1 ${unit}`, dimension, units) === undefined) return NONE;
  // Of 1.5,2oz nobody knows whether the unit is of both.
  const ways = waysOf(number, sign, inList && isBare);
  return settled(ways, sign, (one) => (isBare ? Number(one) : `${Number(one)} ${unit}`), tail);
}

/** The words of a list of amounts: blanks, semicolons and commas behind a unit part them. */
export function amountWords(text: string): readonly string[] {
  const words: string[] = [];
  for (const word of text.replaceAll(/(?<=[a-z"']),/gi, ' ').split(/[\s;]+/)) {
    const last = words.at(-1);
    if (last === undefined || looksNumeric(word)) words.push(word);
    else if (word !== '') words[words.length - 1] = `${last} ${word}`;
  }
  return words.filter((word) => word !== '');
}

/**
 * The decimal sign in a line or a table. Numbers that leave no doubt tell: 1.234,5 and 0,5 have a
 * comma, 1,234.5 a point; 52.4 shows at least that the point is in use. What tells nothing is as
 * the ledger has it.
 */
export function decimalSignOf(
  numbers: readonly { readonly text: string; readonly inList: boolean }[],
  usual: 'comma' | 'point',
): TypedDecimalSign {
  let comma = false;
  let point = false;
  let parted = false;
  for (const { text, inList } of numbers) {
    const [, written = ''] = NUMBER.exec(text) ?? [];
    const number = written.replace(/^[+-]/, '');
    if (/^\d{1,3}(?:,\d{3})+\.\d+$/.test(number) || /^\d{1,3}(?:,\d{3}){2,}$/.test(number)) {
      if (!inList) parted = true;
    } else if (number.includes(',')) {
      const [way, ...others] = waysOf(number, 'open', inList).ways;
      if (others.length === 0 && way?.length === 1) comma = true;
    } else if (/^\d*\.(?:\d{1,2}|\d{4,})$|^0?\.\d+$/.test(number)) point = true;
  }
  if (comma) return point || parted ? 'open' : 'comma';
  if (parted) return 'point';
  return usual === 'comma' && !point ? 'comma' : 'open';
}

/** Readings in words: 52.47, or 52 and 47. */
export function eitherOr(readings: readonly string[]): string {
  const said = readings.map((one) => one.split(' ').join(' and '));
  const last = said.at(-1) ?? '';
  return said.length < 2 ? last : `${said.slice(0, -1).join(', ')}, or ${last}`;
}

/** In how many ways a number can be read, each as one or several plain decimals. */
interface Ways {
  readonly ways: readonly (readonly string[])[];
  /** Whether the only way is still not to be trusted. */
  readonly isDoubtful?: true;
}

function waysOf(written: string, sign: TypedDecimalSign, inList: boolean): Ways {
  const minus = written.startsWith('-') ? '-' : '';
  const number = written.replace(/^[+-]/, '');
  const { ways, isDoubtful } = number.includes(',')
    ? withCommas(number, sign, inList)
    : withoutComma(number, sign);
  const signed = ways.map((way) => way.map((one) => `${minus}${one}`));
  return isDoubtful ? { ways: signed, isDoubtful } : { ways: signed };
}

function withoutComma(number: string, sign: TypedDecimalSign): Ways {
  const points = number.split('.').length - 1;
  if (points > 1) {
    const isParted = sign === 'comma' && /^\d{1,3}(?:\.\d{3})+$/.test(number);
    return { ways: isParted ? [[number.replaceAll('.', '')]] : [] };
  }
  // Where the comma is the decimal sign, a point before three digits may part thousands.
  const isEither = sign === 'comma' && /^[1-9]\d{0,2}\.\d{3}$/.test(number);
  return { ways: isEither ? [[number], [number.replace('.', '')]] : [[number]] };
}

function withCommas(number: string, sign: TypedDecimalSign, inList: boolean): Ways {
  const ways: (readonly string[])[] = [];
  const commas = number.split(',').length - 1;
  if (commas === 1 && /^(?:\d*|\d{1,3}(?:\.\d{3})+),\d+$/.test(number)) {
    const decimal = number.replaceAll('.', '').replace(',', '.');
    if (sign !== 'point') ways.push([decimal.startsWith('.') ? `0${decimal}` : decimal]);
  }
  const isParted = /^[1-9]\d{0,2}(?:,\d{3})+(?:\.\d+)?$/.test(number);
  // Nobody picks a fruit of a million grams, so in a list 120,115,130 are three.
  if (isParted && (sign !== 'comma' || number.includes('.')) && !(inList && commas > 1)) {
    ways.push([number.replaceAll(',', '')]);
  }
  if (!inList) return { ways };
  const parts = number.split(',');
  if (!parts.every((part) => /^\d+(?:\.\d+)?$/.test(part))) return { ways };
  if (number.includes('.')) {
    if (sign === 'comma' && ways.length > 0) return { ways };
    // A point in one of them shows that commas part them, unless 41,5 follows in 52.4,41,5.
    return hasPair(parts) ? { ways: [parts], isDoubtful: true } : { ways: [...ways, parts] };
  }
  if (sign === 'comma') return commas === 1 ? { ways } : { ways: pairsOf(parts), isDoubtful: true };
  if (commas === 1) return { ways: areAlike(parts) ? [...ways, parts] : ways };
  if (areAlike(parts) && parts.every((part) => part.length > 1)) return { ways: [...ways, parts] };
  return { ways: [...ways, parts, ...pairsOf(parts)], isDoubtful: true };
}

/** Decimals with commas for both signs: 41,5,38,2 as 41.5 and 38.2. */
function pairsOf(parts: readonly string[]): readonly (readonly string[])[] {
  if (parts.length % 2 !== 0) return [];
  const pairs = parts.flatMap((part, at) => (at % 2 === 0 ? [`${part}.${parts[at + 1]}`] : []));
  return [pairs];
}

/** Whether two whole numbers side by side look like one decimal. */
function hasPair(parts: readonly string[]): boolean {
  return parts.some((part, at) => {
    const pair = [parts[at - 1] ?? '', part];
    return pair.every((one) => /^\d+$/.test(one)) && !areAlike(pair);
  });
}

/**
 * Whether whole numbers may be fruit of one pick: of 41 and 5 nobody would write 41,5. Fruit of a
 * pick differ less than fourfold (common practice, no source), and 05 is no way to write a number.
 */
function areAlike(parts: readonly string[]): boolean {
  const numbers = parts.map(Number);
  return (
    parts.every((part) => !part.startsWith('0')) && Math.min(...numbers) * 4 > Math.max(...numbers)
  );
}

function settled(
  { ways, isDoubtful }: Ways,
  sign: TypedDecimalSign,
  write: (plain: string) => number | string,
  tail = '',
): TypedNumbers {
  const [way, ...others] = ways;
  if (way === undefined) return NONE;
  if (others.length === 0 && isDoubtful !== true) return { kind: 'read', written: way.map(write) };
  // Typed with the sign in use, so that the answer is not doubted again.
  const typed = (plain: string) => (sign === 'comma' ? plain.replace('.', ',') : plain) + tail;
  return { kind: 'unclear', readings: ways.map((one) => one.map(typed).join(' ')) };
}
