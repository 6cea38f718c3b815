import { isFields } from '../new-entry.ts';

/** A value as text that is equal for equal values, whatever the order of their keys. */
export function plainText(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map(plainText).join(',')}]`;
  if (!isFields(value)) return JSON.stringify(value) ?? 'null';
  const pairs = Object.keys(value)
    .sort()
    .map((key) => `${JSON.stringify(key)}:${plainText(value[key])}`);
  return `{${pairs.join(',')}}`;
}
