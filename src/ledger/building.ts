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
import type { Spot } from '../source/source-file.ts';
import { shown } from './shown.ts';

/** What the builders of the model share: the units of the ledger and a place to complain to. */
export interface Building {
  readonly units: UnitSystem;
  report(diagnostic: Diagnostic): void;
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
  at: Spot,
): Thing | undefined {
  const thing = listed.get(String(name));
  if (thing !== undefined || faulty.has(String(name)) || faulty.has(EVERYTHING)) return thing;
  const nearest = didYouMean(String(name), listed.keys());
  building.report(diagnose(words, at, { name: String(name), nearest }));
  return undefined;
}

/** In a set of faulty names: the whole list could not be read. */
export const EVERYTHING = '*';

/** A quantity in pomary's unit, or undefined with a complaint. */
export function quantityAt(
  building: Building,
  written: number | string | undefined,
  dimension: Dimension,
  at: Spot,
  key: string,
): number | undefined {
  if (written === undefined) return undefined;
  // Longer text is no quantity, and must not cost the time of a search through it.
  const readable = typeof written === 'number' || written.length <= LONGEST_QUANTITY;
  const value = readable ? parseQuantity(written, dimension, building.units) : undefined;
  if (value === undefined) {
    const bare = bareUnit(building.units, dimension);
    const facts = { key, found: shown(written), units: unitNames(dimension), bare };
    building.report(diagnose(quantityUnreadable, at, facts));
    return undefined;
  }
  const range = RANGES[dimension];
  if (value > range.above && value <= range.upTo) return value;
  building.report(
    diagnose(quantityRange, at, { key, found: String(written), expected: range.expected }),
  );
  return undefined;
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
  at: Spot,
  key: string,
): Container | undefined {
  if (written === undefined) return undefined;
  if (written === 'ground') return GROUND;
  const litres = quantityAt(building, written, 'volume', at, key);
  return litres === undefined
    ? undefined
    : Object.freeze({ kind: 'pot', litres, text: String(written) });
}

const GROUND: Container = Object.freeze({ kind: 'ground' });

export function partialDateAt(
  building: Building,
  written: number | string | undefined,
  at: Spot,
  key: string,
): PartialDate | undefined {
  if (written === undefined) return undefined;
  const date = parsePartialDate(String(written));
  if (date === undefined) {
    building.report(diagnose(dateUnreal, at, { key, found: shown(written) }));
  }
  return date && Object.freeze(date);
}
