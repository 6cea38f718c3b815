import { type FileMap, isFileMap } from './new-entry.ts';

/** Whether two plain values are the same, lists in order, maps in any order; absent is undefined. */
export function sameValue(a: unknown, b: unknown): boolean {
  if (Object.is(a, b)) return true;
  if (typeof a !== 'object' || typeof b !== 'object' || a === null || b === null) return false;
  if (!Array.isArray(a)) return !Array.isArray(b) && sameFields(a as FileMap, b as FileMap);
  if (!Array.isArray(b) || a.length !== b.length) return false;
  for (let index = 0; index < a.length; index++) {
    if (!sameValue(a[index], b[index])) return false;
  }
  return true;
}

function sameFields(a: FileMap, b: FileMap): boolean {
  let more = 0;
  for (const key of Object.keys(a)) {
    if (a[key] === undefined) continue;
    if (!sameValue(a[key], b[key])) return false;
    more++;
  }
  for (const key of Object.keys(b)) if (b[key] !== undefined) more--;
  return more === 0;
}

/** A value as text that is equal for equal values, whatever the order of their keys. */
export function plainText(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map(plainText).join(',')}]`;
  if (!isFileMap(value)) return JSON.stringify(value) ?? 'null';
  const pairs = Object.keys(value)
    .sort()
    .map((key) => `${JSON.stringify(key)}:${plainText(value[key])}`);
  return `{${pairs.join(',')}}`;
}
