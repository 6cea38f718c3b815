import type { Section } from '../entries/catalogue.ts';
import { orderedKeys } from '../entries/derive/key-order.ts';
import { displayWidth } from '../source/display-width.ts';
import { type Fields, isFields } from './new-entry.ts';
import { isBlockPlain, renderKey, renderScalar } from './render-scalar.ts';

/** Widest line that an entry may make, in columns. */
export const LINE_WIDTH = 100;

/**
 * An entry as lines of YAML, its dash at column `indent`: one line where it fits, else one line a
 * key. A tasting always has one line a key, because it grows through the evening.
 */
export function renderItem(
  kind: Section | 'samples',
  entry: Fields,
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
export function renderFlow(value: unknown, kind?: Section | 'samples'): string {
  if (Array.isArray(value)) return `[${value.map((item) => renderFlow(item)).join(', ')}]`;
  if (!isFields(value)) return renderScalar(value);
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
  items?: Section | 'samples',
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
    if (!value.some((item) => isFields(item))) return filled(lead, value, indent);
    return [
      lead,
      ...value.flatMap((item) =>
        isFields(item)
          ? renderItem(items ?? 'samples', item, indent + 2)
          : [`${' '.repeat(indent + 2)}- ${renderFlow(item)}`],
      ),
    ];
  }
  if (!isFields(value)) return [`${lead} ${renderScalar(value)}`];
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

function hasLines(entry: Fields): boolean {
  return Object.values(entry).some((value) => typeof value === 'string' && isBlockText(value));
}

function isEmpty(value: unknown): boolean {
  if (Array.isArray(value)) return value.length === 0;
  return isFields(value) && presentKeys(value).length === 0;
}

function presentKeys(fields: Fields): readonly string[] {
  return Object.keys(fields).filter((key) => fields[key] !== undefined);
}

function fits(line: string): boolean {
  return line.length <= LINE_WIDTH / 2 || displayWidth(line) <= LINE_WIDTH;
}
