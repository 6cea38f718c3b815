import * as z from 'zod/mini';
import type { Dimension } from '../model/quantity.ts';
import {
  date,
  oneOf,
  positiveWhole,
  quantity,
  reference,
  textValue,
  wholeNumber,
} from './values.ts';

/** What a field holds, as far as tables and typed lines need to know. */
export type Holds =
  | { readonly kind: 'date' | 'tree' | 'crop' | 'site' | 'taster' | 'text' | 'number' }
  | { readonly kind: 'cultivar' | 'partial date' | 'yes or no' }
  /** Several names. */
  | { readonly kind: 'names' }
  | { readonly kind: 'whole'; readonly least?: number }
  | { readonly kind: 'amount'; readonly dimension: Dimension; readonly isList?: true }
  | { readonly kind: 'choice'; readonly of: readonly string[] }
  /** Words or short phrases, several in a cell parted by commas or semicolons. */
  | { readonly kind: 'phrases' }
  /** A map or a list that takes lines of its own. */
  | { readonly kind: 'lines' };

/** How a field is called where it is neither typed nor read by its key. */
export interface FieldNames {
  /** Headers of a table that mean it, in lower case, without units. */
  readonly also?: readonly string[];
  /** Headers that mean it only where no other column does. */
  readonly perhaps?: readonly string[];
  /** Headers that mean it with a number behind them, where each of several has a column of its own. */
  readonly numbered?: readonly string[];
  /** The words that stand before it on a typed line, if not its key; an empty list where it stands without. */
  readonly words?: readonly string[];
  /** What a slip calls it, if not by its key. */
  readonly called?: string;
  /** What is said of its value, an amount with its unit, where an entry is told back; its key before it, if left out. */
  told?(value: string): string;
  /** Its column in the tables that other programs load, where it has one by itself. */
  readonly column?: {
    /** If that is not the key of the field; stable. */
    readonly key?: string;
    readonly about: string;
    /** If that is not the unit in which its dimension is counted. */
    readonly unit?: string;
  };
  /** Hints of what stands inside it, by the path below it; `*` is any key. */
  readonly inside?: Readonly<Record<string, string>>;
}

/** What a cell of a table may fill. */
export interface CellField extends FieldNames {
  readonly holds: Holds;
  readonly also: readonly string[];
  readonly isOptional: boolean;
}

/** Whether a word is one of the names that people and tables have for a field: `wasps` for insect. */
export function isCalled({ also }: Pick<CellField, 'also'>, word: string): boolean {
  return also.includes(word.toLowerCase().replaceAll(/[_-]/g, ' '));
}

/** What a field says where an entry is told back; of an amount, `value` has its unit. */
export function toldField(key: string, { told }: FieldNames, value: string): string {
  return told?.(value) ?? `${key.replaceAll('_', ' ')} ${value}`;
}

/** One field of an entry; `Schema` is that of its value. */
export interface Field<Schema extends z.ZodMiniType = z.ZodMiniType> extends CellField {
  /** What an editor says of it while someone types. */
  readonly hint: string;
  readonly schema: Schema;
}

/** The fields of an entry by their keys, in the order of a line of a season file. */
export type Fields = Readonly<Record<string, Field>>;

export function field<Schema extends z.ZodMiniType>(
  hint: string,
  schema: Schema,
  holds: Holds,
  names: FieldNames = {},
): Field<Schema> {
  return { hint, schema, holds, isOptional: false, ...names, also: names.also ?? [] };
}

/** What a table gives beside the fields of an entry, and the entry says in another way. */
export function tableCell(holds: Holds, names: FieldNames = {}): CellField {
  return { holds, isOptional: true, ...names, also: names.also ?? [] };
}

/** The same field where an entry may leave it out. */
export function optional<Schema extends z.ZodMiniType>(one: Field<Schema>) {
  return { ...one, schema: z.optional(one.schema), isOptional: true };
}

export function day(hint: string, names?: FieldNames) {
  return field(hint, date, { kind: 'date' }, names);
}

export function treeId(hint: string, names?: FieldNames) {
  return field(hint, reference('the id of a tree'), { kind: 'tree' }, names);
}

export function siteKey(hint: string, names?: FieldNames) {
  return field(hint, reference('the key of a site'), { kind: 'site' }, names);
}

/** A whole number, 0 or more. */
export function whole(hint: string, names?: FieldNames) {
  return field(hint, wholeNumber, { kind: 'whole' }, names);
}

/** A whole number, 1 or more. */
export function atLeastOne(hint: string, names?: FieldNames) {
  return field(hint, positiveWhole, { kind: 'whole', least: 1 }, names);
}

/** A measure in the units of the ledger, or with its own; `what` is how an error calls it. */
export function amount(hint: string, dimension: Dimension, what: string, names?: FieldNames) {
  return field(hint, quantity(what), { kind: 'amount', dimension }, names);
}

export function choice<const Values extends readonly [string, ...string[]]>(
  hint: string,
  of: Values,
  names?: FieldNames,
) {
  return field(hint, oneOf(of), { kind: 'choice', of }, names);
}

export function text(hint: string, names?: FieldNames) {
  return field(hint, textValue, { kind: 'text' }, names);
}

/** What may be left blank as well as out. */
export function blank<Schema extends z.ZodMiniType>(one: Field<Schema>) {
  return { ...one, schema: z.nullish(one.schema), isOptional: true };
}

/** A map or list with lines of its own. */
export function lines<Schema extends z.ZodMiniType>(
  hint: string,
  schema: Schema,
  inside: Readonly<Record<string, string>>,
) {
  return field(hint, schema, { kind: 'lines' }, { inside });
}

/** What anything that is listed may carry. A blank note is no note. */
export const remark = {
  note: blank(
    text('Anything worth keeping.', {
      also: ['notes', 'remark', 'remarks', 'comment', 'comments'],
      column: { about: 'Note, as written.' },
    }),
  ),
};

/** What any entry may carry. */
export const remarks = {
  ...remark,
  photo: blank(
    text('Path of a picture inside the ledger.', {
      also: ['picture', 'image', 'photo file'],
      column: { about: 'Path of a picture inside the ledger.' },
    }),
  ),
};

/** Headers of tables for the day of any entry. */
export const DAY_NAMES: FieldNames & { readonly also: readonly string[] } = {
  also: ['date', 'day', 'when', 'picked on', 'harvested', 'harvest date', 'pick date'],
  perhaps: ['picked'],
};

export const entryTree = treeId('The id of the tree.', {
  also: ['tree id', 'plant', 'plant id', 'tree no', 'tree number', 'plant no'],
  perhaps: ['id'],
});

export const crop = field(
  'early or main, or your own word for it in ledger.yaml.',
  reference('early or main, or the word of this ledger for it'),
  { kind: 'crop' },
  { also: ['flush', 'which crop', 'early or main'] },
);

/** Headers of tables for a number of fruit. */
export const FRUIT_NAMES = {
  also: [
    ...['fruits', 'figs', 'number', 'number of fruit', 'no of fruit', 'count', 'n', 'how many'],
    ...['quantity', 'qty'],
  ],
};
