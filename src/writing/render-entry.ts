import { orderedKeys } from '../entries/derive/key-order.ts';
import type { SeasonSection } from '../model/ledger.ts';
import { displayWidth } from '../source/display-width.ts';
import { type FileMap, isFileMap, writtenSource } from './new-entry.ts';

/** Widest line that an entry may make, in columns. */
const LINE_WIDTH = 100;

/**
 * An entry as lines of YAML, its dash at column `indent`: one line where it fits, else one line a
 * key. A tasting always has one line a key, because it grows through the evening.
 */
export function renderItem(
  kind: SeasonSection | 'samples',
  entry: FileMap,
  indent: number,
): readonly string[] {
  const pad = ' '.repeat(indent);
  const flow = `${pad}- ${renderFlow(entry, kind)}`;
  if (kind !== 'tastings' && fits(flow) && !hasLines(entry)) return [flow];
  const lines = orderedKeys(kind, entry).flatMap((key) =>
    renderPair(key, entry[key], indent + 2, key === 'samples' ? 'samples' : undefined),
  );
  return lines.map((line, index) => (index === 0 ? `${pad}- ${line.slice(indent + 2)}` : line));
}

/** A value on one line, lists and maps in brackets. */
export function renderFlow(value: unknown, kind?: SeasonSection | 'samples'): string {
  if (Array.isArray(value)) return `[${value.map((item) => renderFlow(item)).join(', ')}]`;
  if (!isFileMap(value)) return renderScalar(value);
  const keys = kind === undefined ? presentKeys(value) : orderedKeys(kind, value);
  if (keys.length === 0) return '{}';
  const pairs = keys.map((key) => {
    const inner = value[key];
    const samples = key === 'samples' && Array.isArray(inner);
    const text = samples
      ? `[${inner.map((item) => renderFlow(item, 'samples')).join(', ')}]`
      : renderFlow(inner);
    return `${renderKey(key)}: ${text}`;
  });
  return `{ ${pairs.join(', ')} }`;
}

/** A key and its value as lines, the key at column `indent`. */
export function renderPair(
  key: string,
  value: unknown,
  indent: number,
  items?: SeasonSection | 'samples',
): readonly string[] {
  const lead = `${' '.repeat(indent)}${renderKey(key)}:`;
  if (typeof value === 'string') return renderText(lead, value, indent);
  const nested = items !== undefined || NESTED.has(key);
  if (!nested || isEmpty(value)) {
    const flow = `${lead} ${renderFlow(value)}`;
    if (fits(flow)) return [flow];
  }
  if (Array.isArray(value)) {
    if (value.length === 0) return [`${lead} []`];
    if (!value.some((item) => isFileMap(item))) return filled(lead, value, indent);
    return [
      lead,
      ...value.flatMap((item) =>
        isFileMap(item)
          ? renderItem(items ?? 'samples', item, indent + 2)
          : [`${' '.repeat(indent + 2)}- ${renderFlow(item)}`],
      ),
    ];
  }
  if (!isFileMap(value)) return [`${lead} ${renderScalar(value)}`];
  return [
    lead,
    ...presentKeys(value).flatMap((inner) => renderPair(inner, value[inner], indent + 2)),
  ];
}

/** What stands by taster takes a line for each. */
const NESTED = new Set(['scores', 'words', 'order']);

/** A long list of plain values: brackets, as many on a line as fit. */
function filled(lead: string, values: readonly unknown[], indent: number): readonly string[] {
  const pad = ' '.repeat(indent + 2);
  const lines: string[] = [];
  let line = `${lead} [`;
  for (const [index, value] of values.entries()) {
    const last = index === values.length - 1;
    const text = `${renderFlow(value)}${last ? ']' : ','}`;
    const gap = line.endsWith('[') || line === pad ? '' : ' ';
    if (line !== pad && !line.endsWith('[') && !fits(`${line}${gap}${text}`)) {
      lines.push(line);
      line = `${pad}${text}`;
    } else {
      line = `${line}${gap}${text}`;
    }
  }
  return [...lines, line];
}

/** Text of several lines as a block, where a block gives it back exactly; else on one line. */
function renderText(lead: string, text: string, indent: number): readonly string[] {
  if (!isBlockText(text)) return [`${lead} ${isBlockPlain(text) ? text : renderScalar(text)}`];
  const pad = ' '.repeat(indent + 2);
  return [`${lead} |-`, ...text.split('\n').map((line) => (line === '' ? '' : pad + line))];
}

/** Printable lines without loose spaces at their ends. A last line end would be lost at the end of a file. */
function isBlockText(text: string): boolean {
  return (
    text.includes('\n') &&
    /^[\p{L}\p{N}]/u.test(text) &&
    !/ (?:\n|$)|\n$/.test(text) &&
    /^[\p{L}\p{M}\p{N}\p{P}\p{S} \n]*$/u.test(text)
  );
}

function hasLines(entry: FileMap): boolean {
  return Object.values(entry).some((value) => typeof value === 'string' && isBlockText(value));
}

function isEmpty(value: unknown): boolean {
  if (Array.isArray(value)) return value.length === 0;
  return isFileMap(value) && presentKeys(value).length === 0;
}

function presentKeys(fields: FileMap): readonly string[] {
  return Object.keys(fields).filter((key) => fields[key] !== undefined);
}

function fits(line: string): boolean {
  return line.length <= LINE_WIDTH / 2 || displayWidth(line) <= LINE_WIDTH;
}

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
function isPlain(text: string): boolean {
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
