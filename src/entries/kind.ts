import * as z from 'zod/mini';
import type { Field, Fields } from './field.ts';

/** A kind of entry: its section of a season file, and what an entry of it says. */
export interface Kind {
  readonly section: string;
  /** What the section holds, as editors say it. */
  readonly hint: string;
  /** What its entries are called together, where an error asks for a list of them. */
  readonly many: string;
  readonly fields: Fields;
  readonly schema: z.ZodMiniType;
}

/** The schemas of fields by their keys. */
export type ShapeOf<Own extends Fields> = {
  -readonly [Key in keyof Own]: Own[Key] extends Field<infer Schema> ? Schema : never;
};

export function shapeOf<Own extends Fields>(fields: Own): ShapeOf<Own> {
  const shape = Object.entries(fields).map(([key, { schema }]) => [key, schema]);
  return Object.fromEntries(shape) as ShapeOf<Own>;
}

/** A map with these keys and no others. */
export function mapOf<Own extends Fields>(fields: Own, expected: string) {
  return z.strictObject(shapeOf(fields), { error: expected });
}
