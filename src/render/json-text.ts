/**
 * JSON with an indent of two, ended by a line feed. Characters that could steer a terminal are
 * written as escapes, which changes no value. Throws a `RangeError` for NaN and Infinity, which
 * JSON would turn into null without a word.
 */
export function jsonText(value: unknown): string {
  return written(value, 2);
}

/** A record a line (JSON Lines), by the same rules. */
export function jsonLines(values: readonly unknown[]): string {
  return values.map((value) => written(value, 0)).join('');
}

function written(value: unknown, indent: number): string {
  const text = JSON.stringify(value, finiteOnly, indent);
  return `${text.replace(STEERING, escaped)}\n`;
}

function finiteOnly(key: string, value: unknown): unknown {
  if (typeof value === 'number' && !Number.isFinite(value)) {
    throw new RangeError(`${key} is ${value}`);
  }
  return Object.is(value, -0) ? 0 : value;
}

function escaped(character: string): string {
  return `\\u${character.charCodeAt(0).toString(16).padStart(4, '0')}`;
}

/** C1 controls and bidirectional controls; the C0 controls are escaped by JSON itself. */
const STEERING = /[\u007f-\u009f\u061c\u200e\u200f\u2028\u2029\u202a-\u202e\u2066-\u2069\ufeff]/g;
