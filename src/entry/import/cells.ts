import { didYouMean } from '../../diagnostics/did-you-mean.ts';
import type { Ledger } from '../../model/ledger.ts';
import { bareUnit, type Dimension, parseQuantity, unitNames } from '../../model/quantity.ts';
import { cropWords, findCrop, findKey, findTree, findWord } from '../shorthand/names.ts';
import { type DateOrder, dateOfCell } from './column-dates.ts';
import { type CommaSense, numberOfCell } from './column-numbers.ts';
import type { CellKind } from './columns.ts';

/** How the cells of a table are read, decided once for the whole of it. */
export interface CellReading {
  readonly ledger: Ledger;
  readonly dateOrder: DateOrder;
  readonly comma: CommaSense;
}

export type CellValue = { readonly value: unknown } | { readonly reason: string };

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
    case 'crop': {
      const crop = findCrop(ledger, text);
      return crop === undefined
        ? lost(text, 'crop', didYouMean(text, cropWords(ledger)))
        : { value: crop };
    }
    case 'taster':
      return keyed(ledger.trial.tasters, text, 'taster');
    case 'site':
      return keyed(ledger.trial.sites, text, 'site');
    case 'text':
      return { value: text };
    case 'choice': {
      const word = findWord(holds.of, text.toLowerCase());
      return found(word, `${text} is none of ${holds.of.join(', ')}`);
    }
    case 'whole':
    case 'number':
      return plainNumber(text, holds.kind, reading);
    case 'amount':
      return holds.list === true
        ? amounts(text, holds.dimension, reading, unit)
        : amount(text, holds.dimension, reading, unit);
  }
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

function plainNumber(text: string, kind: 'whole' | 'number', reading: CellReading): CellValue {
  const read = numberOfCell(text, reading.comma);
  if (read === 'unclear') return unclear(text);
  if (read === undefined || read.unit !== undefined) return { reason: `${text} is no number` };
  if (kind === 'whole' && (!Number.isInteger(read.number) || read.number < 0)) {
    return { reason: `${text} is no whole number, 0 or more` };
  }
  return { value: read.number };
}

function amount(
  text: string,
  dimension: Dimension,
  { ledger, comma }: CellReading,
  headerUnit: string | undefined,
): CellValue {
  const { units } = ledger.trial;
  const read = numberOfCell(text, comma);
  if (read === 'unclear') return unclear(text);
  const unit = read?.unit ?? headerUnit;
  const bare = bareUnit(units, dimension);
  const written =
    read && (unit === undefined || unit === bare ? read.number : `${read.number} ${unit}`);
  if (written === undefined || parseQuantity(written, dimension, units) === undefined) {
    const known = unitNames(dimension).join(', ');
    return {
      reason: `${text}${headerUnit === undefined ? '' : ` ${headerUnit}`} is no quantity (units: ${known})`,
    };
  }
  return { value: written };
}

/** Several weights in one cell, parted by semicolons or spaces. */
function amounts(
  text: string,
  dimension: Dimension,
  reading: CellReading,
  unit: string | undefined,
): CellValue {
  const whole = amount(text, dimension, reading, unit);
  if ('value' in whole) return { value: [whole.value] };
  const parted = text.split(text.includes(';') ? ';' : /,?\s+/).map((part) => part.trim());
  const values: unknown[] = [];
  for (const part of parted.filter((one) => one !== '')) {
    const one = amount(part, dimension, reading, unit);
    if ('reason' in one) return one;
    values.push(one.value);
  }
  return { value: values };
}

function unclear(text: string): CellValue {
  return { reason: `the comma in ${text} may be a decimal sign or part thousands` };
}
