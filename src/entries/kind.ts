import * as z from 'zod/mini';
import { type CellField, type Field, type Fields, lines } from './field.ts';

/** What an entry of the ledger says, by the keys of its fields. */
export type Said = Readonly<Record<string, unknown>>;

/** One kind of line that may be typed. */
export interface LineHelp {
  readonly pattern: string;
  readonly example: string;
  readonly meaning: string;
}

/** A kind of entry: its section of a season file, and what an entry of it says. */
export interface Kind {
  readonly section: string;
  /** What one entry is, in the ids and lists that other programs load. */
  readonly one: string;
  /** What the section holds, as editors say it. */
  readonly hint: string;
  /** What its entries are called together, where an error asks for a list of them. */
  readonly many: string;
  /** One and several where they are counted, if not by `one`. */
  readonly counted?: readonly [one: string, many: string];
  /** What the table of its entries holds, if not the hint. */
  readonly table?: string;
  /** How it is typed, where the line begins with one of its fields: `girth TREE N`. */
  readonly lines?: readonly LineHelp[];
  /** Two fields of which an entry needs one at least. */
  readonly needsOneOf?: readonly [some: string, other: string];
  /** Two equal ones of a day may be two, as picks that are fruit beside other fruit. */
  readonly addsUp?: true;
  readonly fields: Fields;
  readonly schema: z.ZodMiniType;
  /** What a row of a table gives, where that is not the fields. */
  readonly row?: Readonly<Record<string, CellField>>;
  /** What an entry says, where the model has it otherwise than the file. */
  said?(entry: never): Said;
}

/** What an entry says, by the keys of its fields. */
export function saidOf(kind: Kind, entry: object): Said {
  return kind.said === undefined ? { ...entry } : kind.said(entry as never);
}

/** What one and several entries of a kind are called. */
export function namesOf({ one, counted = [one, `${one}s`] }: Kind) {
  return counted;
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
