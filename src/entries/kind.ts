import * as z from 'zod/mini';
import type { CellField, Field, Fields } from './field.ts';

/** What an entry of the ledger says, by the keys of its fields. */
export type Said = Readonly<Record<string, unknown>>;

/** A kind of entry: its section of a season file, and what an entry of it says. */
export interface Kind {
  readonly section: string;
  /** What the section holds, as editors say it. */
  readonly hint: string;
  /** What its entries are called together, where an error asks for a list of them. */
  readonly many: string;
  readonly fields: Fields;
  readonly schema: z.ZodMiniType;
  /** What a row of a table gives, where that is not the fields. */
  readonly row?: Readonly<Record<string, CellField>>;
  /** What an entry says, where the model has it otherwise than the file. */
  said?(entry: never): Said;
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
