import type { ReferenceFields } from './read-reference.ts';

/** The number under a key; a reference file without it is broken, so the test stops there. */
export function numberAt(fields: ReferenceFields, key: string): number {
  const held = fields[key];
  if (typeof held !== 'number') throw new TypeError(`${key} is not a number`);
  return held;
}

/** The list of numbers under a key. */
export function numbersAt(fields: ReferenceFields, key: string): number[] {
  const held = fields[key];
  if (!Array.isArray(held) || !held.every((value) => typeof value === 'number')) {
    throw new TypeError(`${key} is not a list of numbers`);
  }
  return held;
}

/** The rows under `rows`, where each row is a list of numbers. */
export function numericRows(fields: ReferenceFields): number[][] {
  const held = fields['rows'];
  if (!Array.isArray(held)) throw new TypeError('rows is not a list');
  return held.map((_, at) => numbersAt(held as unknown as ReferenceFields, String(at)));
}

/** The rows under `rows`, where each row is a record. */
export function recordRows(fields: ReferenceFields): ReferenceFields[] {
  const held = fields['rows'];
  if (!Array.isArray(held)) throw new TypeError('rows is not a list');
  return held.map((row: unknown) => {
    if (typeof row !== 'object' || row === null) throw new TypeError('a row is not a record');
    return row as ReferenceFields;
  });
}

/** |got - wanted| / |wanted|; infinite if there is no figure, or one where 0 is wanted. */
export function relativeError(got: number | undefined, wanted: number): number {
  if (got === undefined || Number.isNaN(got)) return Number.POSITIVE_INFINITY;
  return got === wanted ? 0 : Math.abs(got - wanted) / Math.abs(wanted);
}

/** |got - wanted|; infinite if there is no figure. */
export function absoluteError(got: number | undefined, wanted: number): number {
  if (got === undefined || Number.isNaN(got)) return Number.POSITIVE_INFINITY;
  return Math.abs(got - wanted);
}
