import * as z from 'zod/mini';
import { type Field, type Fields, lines } from './field.ts';
import { mapOf } from './kind.ts';

/** A map with fields of its own. */
export function group<Own extends Fields>(hint: string, fields: Own, expected: string) {
  return lines(hint, mapOf(fields, expected), hintsOf(fields));
}

/** A map from keys of the grower's own choice to one field each. */
export function keyed<Key extends z.core.$ZodRecordKey, Schema extends z.ZodMiniType>(
  hint: string,
  key: Key,
  one: Field<Schema>,
  expected: string,
) {
  return lines(hint, z.record(key, one.schema, { error: expected }), hintsOf({ '*': one }));
}

/** What an editor says of fields and of what stands inside them, by the path of keys. */
export function hintsOf(fields: Fields): Readonly<Record<string, string>> {
  const hints = Object.entries(fields).flatMap(([key, { hint, inside = {} }]) => [
    [key, hint] as const,
    ...Object.entries(inside).map(([path, below]) => [`${key}.${path}`, below] as const),
  ]);
  return Object.fromEntries(hints);
}
