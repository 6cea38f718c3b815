import { type Diagnostic, diagnose, type Wording } from '../diagnostics/diagnostic.ts';
import { didYouMean } from '../diagnostics/did-you-mean.ts';
import { dateUnreal, quantityRange, quantityUnreadable } from '../diagnostics/words/reading.ts';
import type { Container } from '../model/collection.ts';
import { type PartialDate, parsePartialDate } from '../model/dates.ts';
import {
  bareUnit,
  type Dimension,
  parseQuantity,
  type UnitSystem,
  unitNames,
} from '../model/quantity.ts';
import { type Spot, spotIn } from '../source/source-file.ts';
import { shownValue } from './shown-value.ts';

/** What the builders of the model share: the units of the ledger and a place to complain to. */
export interface Building {
  readonly units: UnitSystem;
  report(diagnostic: Diagnostic): void;
}

/**
 * Where a value stands: a step further from the spot of its entry, if there is a step. It is made into a spot of
 * its own only for a complaint, since a ledger has many more values than complaints.
 */
type Step = string | number | undefined;

function placeOf(base: Spot, step: Step): Spot {
  return step === undefined ? base : spotIn(base, step);
}

/**
 * What is listed under a name, or undefined with a complaint. A name whose own record is faulty is
 * passed over in silence: that fault has been told where it stands.
 */
export function lookUp<Thing>(
  building: Building,
  words: Wording<{ name: string; nearest: string | undefined }>,
  name: string | number,
  listed: ReadonlyMap<string, Thing>,
  faulty: ReadonlySet<string>,
  base: Spot,
  step?: Step,
): Thing | undefined {
  const thing = listed.get(String(name));
  if (thing !== undefined || faulty.has(String(name)) || faulty.has(WHOLE_LIST)) return thing;
  const nearest = didYouMean(String(name), listed.keys());
  building.report(diagnose(words, placeOf(base, step), { name: String(name), nearest }));
  return undefined;
}

/** In a set of faulty names: the whole list could not be read. */
export const WHOLE_LIST = '*';

/** A quantity in pomary's unit, or undefined with a complaint. It stands under its key, or at `step` of its list. */
export function quantityAt(
  building: Building,
  written: number | string | undefined,
  dimension: Dimension,
  base: Spot,
  key: string,
  step: string | number = key,
): number | undefined {
  if (written === undefined) return undefined;
  const value = readableQuantity(written, dimension, building.units);
  if (value === undefined) {
    const bare = bareUnit(building.units, dimension);
    const facts = { key, found: shownValue(written), units: unitNames(dimension), bare };
    building.report(diagnose(quantityUnreadable, placeOf(base, step), facts));
    return undefined;
  }
  const range = RANGES[dimension];
  if (value > range.above && value <= range.upTo) return value;
  const facts = { key, found: String(written), expected: range.expected };
  building.report(diagnose(quantityRange, placeOf(base, step), facts));
  return undefined;
}

/** A quantity in pomary's unit, or undefined; longer text is none, and must not cost the time of a search through it. */
export function readableQuantity(
  written: number | string,
  dimension: Dimension,
  units: UnitSystem,
): number | undefined {
  const readable = typeof written === 'number' || written.length <= LONGEST_QUANTITY;
  return readable ? parseQuantity(written, dimension, units) : undefined;
}

const LONGEST_QUANTITY = 40;

/** Bounds far outside any fruit tree: past them it is a slip, not a record. */
const RANGES: Readonly<Record<Dimension, { above: number; upTo: number; expected: string }>> = {
  weight: { above: 0, upTo: 1_000_000, expected: 'above 0 and at most 1000 kg' },
  girth: { above: 0, upTo: 2000, expected: 'above 0 and at most 20 m' },
  width: { above: -1e-9, upTo: 500, expected: '0 to 500 mm' },
  height: { above: 0, upTo: 6000, expected: 'above 0 and at most 60 m' },
  temperature: { above: -90, upTo: 60, expected: 'between -90 and 60 degC' },
  volume: { above: 0, upTo: 100_000, expected: 'above 0 and at most 100000 L' },
};

export function containerAt(
  building: Building,
  written: number | string | undefined,
  base: Spot,
  key: string,
): Container | undefined {
  if (written === undefined) return undefined;
  if (written === 'ground') return GROUND;
  const litres = quantityAt(building, written, 'volume', base, key);
  return litres === undefined
    ? undefined
    : Object.freeze({ kind: 'pot', litres, text: String(written) });
}

const GROUND: Container = Object.freeze({ kind: 'ground' });

export function partialDateAt(
  building: Building,
  written: number | string | undefined,
  base: Spot,
  key: string,
): PartialDate | undefined {
  if (written === undefined) return undefined;
  const date = parsePartialDate(String(written));
  if (date === undefined) {
    const partly = { meant: monthOrYear(String(written)) };
    building.report(
      diagnose(dateUnreal, spotIn(base, key), { key, found: shownValue(written), partly }),
    );
  }
  return date && Object.freeze(date);
}

/** The month of `4/2022` or `2022.4`, or else the year of `spring 2022`, where it names one only. */
function monthOrYear(written: string): string | undefined {
  const found = /^\s*(?:(\d{1,2})[/.-](\d{4})|(\d{4})[/.-](\d{1,2}))\s*$/.exec(written);
  const month = `${found?.[2] ?? found?.[3]}-${(found?.[1] ?? found?.[4] ?? '').padStart(2, '0')}`;
  if (found !== null) return parsePartialDate(month) && month;
  const [year, ...others] = /\d.*\d|\d/.exec(written)?.[0].match(/\d+/g) ?? [];
  return year?.length === 4 && others.length === 0 && parsePartialDate(year) ? year : undefined;
}
