import { didYouMean } from '../../diagnostics/did-you-mean.ts';
import type { Ledger } from '../../model/ledger.ts';
import { bareUnit, baseUnit, type Dimension, unitNames } from '../../model/quantity.ts';
import { WHOLE_TRIAL } from '../../model/touches.ts';
import {
  findCrop,
  findCultivar,
  findKey,
  findTree,
  findWord,
  wordsForCrops,
} from '../shorthand/names.ts';
import {
  amountWords,
  eitherOr,
  readAmount,
  readNumber,
  type TypedDecimalSign,
  type TypedNumbers,
} from '../typed-number.ts';
import { type DateOrder, dateOfCell } from './column-dates.ts';
import type { CellKind } from './columns.ts';

/** How the cells of a table are read, decided once for the whole of it. */
export interface CellReading {
  readonly ledger: Ledger;
  readonly dateOrder: DateOrder;
  readonly sign: TypedDecimalSign;
  /** Whether the table comes from `pomary export`. */
  readonly isExported: boolean;
}

/** `some` of a number is a cross or a yes: that there were some, not how many. */
export type CellValue =
  | { readonly value: unknown }
  | { readonly reason: string }
  | { readonly some: true };

/** A cell in which people say that there is nothing to say; a spreadsheet may have guarded its dash. */
export function isNothing(text: string): boolean {
  return /^(?:'?[-–—]+|n\/?a)?$/i.test(text);
}

const CROSS = /^(?:x|✓|✔|yes|y|true)$/i;

/** The value of a cell, or why it has none. */
export function readCell(
  text: string,
  holds: CellKind,
  reading: CellReading,
  unit?: string,
): CellValue {
  const { ledger } = reading;
  switch (holds.kind) {
    case 'date': {
      const date = dateOfCell(text, reading.dateOrder);
      return found(date, `${text} is no date with a year`);
    }
    case 'tree': {
      const tree = findTree(ledger, text);
      if (tree.kind === 'one') return { value: tree.thing.id };
      if (tree.kind === 'none') return lost(text, 'tree', tree.nearest);
      const ids = tree.things.map(({ id }) => id).join(', ');
      return { reason: `${text} has the trees ${ids}; name one of them` };
    }
    case 'cultivar': {
      const cultivar = findCultivar(ledger, text);
      if (cultivar.kind === 'one') return { value: cultivar.thing.key };
      if (cultivar.kind === 'none') return lost(text, 'cultivar', cultivar.nearest);
      return { reason: `${text} is the name of several cultivars` };
    }
    case 'crop': {
      const crop = findCrop(ledger, text);
      return crop === undefined
        ? lost(text, 'crop', didYouMean(text, wordsForCrops(ledger)))
        : { value: crop };
    }
    case 'taster':
      return keyed(ledger.trial.tasters, text, 'taster');
    case 'site':
      if (text.toLowerCase() === WHOLE_TRIAL && !ledger.trial.sites.has(WHOLE_TRIAL)) {
        return { value: WHOLE_TRIAL };
      }
      return keyed(ledger.trial.sites, text, 'site');
    case 'partial date':
      return partialDate(text, reading);
    case 'yes or no':
      if (CROSS.test(text)) return { value: true };
      return found(
        /^(?:no|n|false|0)$/i.test(text) ? false : undefined,
        `${text} is neither yes nor no`,
      );
    case 'names':
      return { value: parted(text, reading) };
    case 'text':
      return { value: reading.isExported ? withoutGuard(text) : text };
    case 'phrases':
      return { value: parted(text, reading) };
    case 'choice': {
      const plain = text === '?' ? 'unknown' : text.toLowerCase().replaceAll(' ', '-');
      const word = findWord(holds.of, plain);
      return found(word, `${text} is none of ${holds.of.join(', ')}`);
    }
    case 'whole':
      if (CROSS.test(text)) return { some: true };
      return plainNumber(/^no$/i.test(text) ? '0' : text, holds.kind, reading);
    case 'number':
      return plainNumber(text, holds.kind, reading);
    case 'amount':
      return holds.list === undefined
        ? amount(text, holds.dimension, reading, unit ?? exportedUnit(holds.dimension, reading))
        : amounts(text, holds, reading, unit ?? exportedUnit(holds.dimension, reading));
  }
}

function parted(text: string, { isExported }: CellReading): readonly string[] {
  const plain = isExported ? withoutGuard(text) : text;
  const words = plain.split(/[,;\n]/).map((one) => one.trim());
  return words.filter((one) => one !== '');
}

/** A day, a month or a year, as it is known. */
function partialDate(text: string, { dateOrder }: CellReading): CellValue {
  if (/^\d{4}$/.test(text)) return { value: Number(text) };
  const date = dateOfCell(text, dateOrder);
  if (date !== undefined) return { value: date };
  const [, number, ofNumber] = /^(\d{1,2})[/.](\d{4})$/.exec(text) ?? [];
  const [, year, ofYear] = /^(\d{4})-(\d{1,2})$/.exec(text) ?? [];
  const month = number ?? ofYear;
  const written = month === undefined ? `1 ${text}` : `1.${Number(month)}.${ofNumber ?? year}`;
  const first = dateOfCell(written, 'day');
  return found(
    first?.slice(0, 7),
    `${text} is no day, month or year, as in 2022-04-16, 2022-04 or 2022`,
  );
}

/** A score, which may say what it is out of, as 7/10; the scale of the ledger must end there. */
export function readScore(text: string, reading: CellReading): CellValue {
  const [, score = text, top] = /^(.+?)\s*\/\s*(\d+)$/.exec(text) ?? [];
  const { high } = reading.ledger.trial.scale;
  if (top !== undefined && Number(top) !== high) {
    return { reason: `${text} is out of ${top}, and the scale of the ledger goes to ${high}` };
  }
  return readCell(score, { kind: 'number' }, reading);
}

/** The unit of the numbers of an exported table, where bare numbers of the ledger have another. */
function exportedUnit(dimension: Dimension, { isExported, ledger }: CellReading) {
  const unit = baseUnit(dimension);
  return isExported && unit !== bareUnit(ledger.trial.units, dimension) ? unit : undefined;
}

/** Text as it was before an apostrophe was put in front for the sake of spreadsheets. */
function withoutGuard(text: string): string {
  return /^'+[=+\-@\t\r\n＝＋－＠]/.test(text) ? text.slice(1) : text;
}

function keyed(
  map: ReadonlyMap<string, { readonly key: string; readonly name: string }>,
  text: string,
  thing: string,
): CellValue {
  const key = findKey(map, text);
  if (key.kind === 'one') return { value: key.thing };
  return lost(text, thing, key.kind === 'none' ? key.nearest : undefined);
}

function lost(text: string, thing: string, nearest: string | undefined): CellValue {
  const hint = nearest === undefined ? '' : `; did you mean ${nearest}?`;
  return { reason: `${text} is no ${thing} of this ledger${hint}` };
}

function found(value: unknown, reason: string): CellValue {
  return value === undefined ? { reason } : { value };
}

function plainNumber(text: string, kind: 'whole' | 'number', { sign }: CellReading): CellValue {
  const read = readNumber(inOneWord(text), sign);
  if (read.kind === 'unclear') return unclear(text, read.readings);
  const [number] = read.kind === 'read' ? read.written : [];
  if (number === undefined) return { reason: `${text} is no number` };
  if (kind === 'whole' && !(Number.isInteger(number) && Number(number) >= 0)) {
    return { reason: `${text} is no whole number, 0 or more` };
  }
  return { value: number };
}

function amount(
  text: string,
  dimension: Dimension,
  reading: CellReading,
  unit: string | undefined,
): CellValue {
  const read = typed(inOneWord(text), dimension, reading, unit, false);
  if (read.kind === 'read') return { value: read.written[0] };
  return noAmount(text, dimension, read, unit);
}

/** The weights of a cell: parted by semicolons or blanks, or by commas where those are clear. */
function amounts(
  text: string,
  holds: Extract<CellKind, { kind: 'amount' }>,
  reading: CellReading,
  unit: string | undefined,
): CellValue {
  const values: unknown[] = [];
  const joined = text.replaceAll(/(?<=\d)[\u00a0\u202f'](?=\d{3}(?!\d))/g, '');
  for (const word of amountWords(joined)) {
    const read = typed(word, holds.dimension, reading, unit, holds.list === 'commas');
    if (read.kind !== 'read') return noAmount(word, holds.dimension, read, unit);
    values.push(...read.written);
  }
  return { value: values };
}

function typed(
  text: string,
  dimension: Dimension,
  { ledger, sign }: CellReading,
  headerUnit: string | undefined,
  inList: boolean,
): TypedNumbers {
  const { units } = ledger.trial;
  if (headerUnit === undefined) return readAmount(text, dimension, units, sign, inList);
  const bare = readNumber(text, sign, inList);
  if (bare.kind === 'unclear') return bare;
  if (bare.kind === 'none') return readAmount(text, dimension, units, sign, inList);
  const each = bare.written.map((one) =>
    readAmount(`${one} ${headerUnit}`, dimension, units, 'open'),
  );
  const written = each.flatMap((one) => (one.kind === 'read' ? one.written : []));
  return written.length === each.length ? { kind: 'read', written } : { kind: 'none' };
}

function noAmount(
  text: string,
  dimension: Dimension,
  read: Exclude<TypedNumbers, { kind: 'read' }>,
  unit: string | undefined,
): CellValue {
  if (read.kind === 'unclear') return unclear(text, read.readings);
  const known = unitNames(dimension).join(', ');
  return {
    reason: `${text}${unit === undefined ? '' : ` ${unit}`} is no quantity (units: ${known})`,
  };
}

/** A number of a cell of its own without the blanks or apostrophes that part its thousands. */
function inOneWord(text: string): string {
  return /^[+-]?\d{1,3}(?:[\u00a0\u202f' ]\d{3})+(?!\d)/.test(text)
    ? text.replaceAll(/(?<=\d)[\u00a0\u202f' ](?=\d{3}(?!\d))/g, '')
    : text;
}

function unclear(text: string, readings: readonly string[]): CellValue {
  return {
    reason: `${text} may be ${eitherOr(readings)}; write it without a doubt, or say --decimal comma or point`,
  };
}
