import { writtenSource } from './new-entry.ts';

/**
 * A scalar as it is written in a ledger file: plain where every reader of YAML takes it for the
 * same thing, in double quotes otherwise. Dates stay plain.
 */
export function renderScalar(value: unknown): string {
  const source = writtenSource(value);
  if (source !== undefined) return source;
  if (value === null || value === undefined) return 'null';
  if (typeof value === 'number') return plainDecimal(value);
  if (typeof value === 'boolean') return String(value);
  const text = String(value);
  return isPlain(text) ? text : quoted(text);
}

/**
 * A key; the keys of the ledger's own vocabulary are never quoted, though `on` looks like a word of
 * YAML 1.1, and neither are years.
 */
export function renderKey(key: string): string {
  return key === 'on' || key === 'order' || YEAR.test(key) || isPlain(key) ? key : quoted(key);
}

const YEAR = /^(?:19|20)\d\d$/;

/** Plain text that means itself inside and outside of brackets, under YAML 1.1 and 1.2 alike. */
export function isPlain(text: string): boolean {
  return SAFE.test(text) && !text.endsWith(' ') && !text.includes('  ') && !looksLikeAnother(text);
}

/** Plain text outside of brackets, where a comma means nothing. */
export function isBlockPlain(text: string): boolean {
  return isPlain(text.replaceAll(',', '')) && !looksLikeAnother(text);
}

// A letter, digit, underscore, bracket or full stop first; then nothing that YAML gives a meaning.
const SAFE = /^[\p{L}\p{N}_(./](?:[\p{L}\p{M}\p{N}_()./+*=%&'°~^;!?$@<>| -]|:(?=[^\s,[\]{}]))*$/u;
const WORDS = /^(?:y|n|yes|no|on|off|true|false|null|~)$/i;
/** A day or a month. */
const DATE = /^\d{4}-\d\d(?:-\d\d)?$/;
/** Digits with what may stand between them in some kind of number: 12:30, 1_000, 0x1F, 1e3. */
const NUMBERLIKE = /^(?:[-+.]?\d[\d_.:,eExXoObB+a-fA-F-]*|[-+]?\.(?:inf|nan|[\d_.e+-]*))$/i;

/** Text that a reader could take for a number, a time, a yes or a nothing. */
export function looksLikeAnother(text: string): boolean {
  if (DATE.test(text)) return false;
  return WORDS.test(text) || NUMBERLIKE.test(text) || text === '=';
}

export function quoted(text: string): string {
  return JSON.stringify(text).replace(HIDDEN, (character) => {
    const code = character.charCodeAt(0).toString(16);
    return `\\u${code.padStart(4, '0')}`;
  });
}

// What JSON leaves as it is, but a person cannot see or YAML may not contain.
const HIDDEN = /[\u007f-\u00a0\u00ad\u200b-\u200f\u2028-\u202f\u2060-\u206f\ufeff\ufffe\uffff]/g;

/** Without an exponent, which readers of YAML take differently. */
function plainDecimal(value: number): string {
  const text = String(value);
  if (!/e/.test(text)) return text;
  return Math.abs(value) < 1 ? value.toFixed(20).replace(/0+$/, '') : BigInt(value).toString();
}
