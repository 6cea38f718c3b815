import type { ReferenceFields } from './read-reference.ts';

/** A value as a list; a reference file that holds something else is broken, so the test stops. */
export function toList(value: unknown): readonly unknown[] {
  if (Array.isArray(value)) return value;
  throw new TypeError(`${JSON.stringify(value)} is not a list`);
}

/** A value as a number; JSON has no infinite numbers, so "Infinity" is text there. */
export function toNumber(value: unknown): number {
  if (value === 'Infinity') return Number.POSITIVE_INFINITY;
  if (typeof value === 'number') return value;
  throw new TypeError(`${JSON.stringify(value)} is not a number`);
}

/** A value as a list of numbers. */
export function toNumbers(value: unknown): number[] {
  return toList(value).map(toNumber);
}

/** A value as a list of texts. */
export function toTexts(value: unknown): string[] {
  return toList(value).map((text) => {
    if (typeof text === 'string') return text;
    throw new TypeError(`${JSON.stringify(text)} is not text`);
  });
}

/** A value as a set of fields. */
export function toFields(value: unknown): ReferenceFields {
  if (typeof value === 'object' && value !== null && !Array.isArray(value)) return { ...value };
  throw new TypeError(`${JSON.stringify(value)} is not a set of fields`);
}
