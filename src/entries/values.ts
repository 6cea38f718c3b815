import * as z from 'zod/mini';

// The values that the schemas of all files share. The `error` of each says what is expected, and
// becomes the second half of "fruit must be ...". They are of zod/mini, which loads in a third of the time of zod.

// Code generation at run time gains nothing in a program that parses once.
z.config({ jitless: true });

const ID = /^[\p{L}\p{N}][\p{L}\p{N}._-]*$/u;
const ID_EXPECTED =
  'short and plain: letters, digits, "-", "_" and ".", beginning with a letter or digit';

/** A key under which something is listed. */
export const key = z
  .string({ error: ID_EXPECTED })
  .check(
    z.regex(ID, { error: ID_EXPECTED }),
    z.maxLength(100, { error: 'at most 100 letters long' }),
  );

/** Whether a text can be a key. */
export function isKey(text: string): boolean {
  return ID.test(text) && text.length <= 100;
}

/** A reference to something listed elsewhere; trees may be named by plain numbers. */
export function reference(what: string) {
  return z.union([z.string().check(z.minLength(1)), z.int()], { error: what });
}

export const textValue = z.string({ error: 'text (in quotes, if it looks like a number)' });
export const name = z
  .string({ error: 'a name (in quotes, if it looks like a number)' })
  .check(
    z.minLength(1, { error: 'a name' }),
    z.maxLength(200, { error: 'a name of at most 200 letters' }),
  );

/** What fruit tastes of: a word or a short phrase. */
export const tasteWord = z
  .string({ error: 'a word (in quotes, if it looks like a number)' })
  .check(
    z.regex(/\S/, { error: 'a word' }),
    z.maxLength(60, { error: 'a word or a phrase of at most 60 letters' }),
  );

export const date = z.iso.date({ error: 'a date that exists, written YYYY-MM-DD' });
export const partialDate = z.union([z.string(), z.int()], {
  error: 'a date: YYYY-MM-DD, YYYY-MM or YYYY',
});

const UP_TO_A_MILLION = z.lte(1_000_000, { error: 'a whole number up to a million' });
const WHOLE = 'a whole number, 0 or more';
export const wholeNumber = z
  .int({ error: WHOLE })
  .check(z.gte(0, { error: WHOLE }), UP_TO_A_MILLION);
const COUNTED = 'a whole number, 1 or more';
export const positiveWhole = z
  .int({ error: COUNTED })
  .check(z.gte(1, { error: COUNTED }), UP_TO_A_MILLION);
/** Far outside anything in a trial, and far inside what arithmetic can bear. */
const MOST = 1_000_000_000;
const WITHIN = 'a number of at most ten digits';
export const number = z
  .number({ error: 'a number' })
  .check(z.gte(-MOST, { error: WITHIN }), z.lte(MOST, { error: WITHIN }));
/** A number from `low` to `high`. */
export function numberWithin(low: number, high: number, error: string) {
  return number.check(z.gte(low, { error }), z.lte(high, { error }));
}
export const trueOrFalse = z.boolean({ error: 'true or false' });

/** A number in the ledger's units, or text with its unit. */
export function quantity(what: string) {
  return z.union([z.number(), z.string()], {
    error: `${what}: a number, or a number with its unit`,
  });
}

/** The size of a pot, or the ground. */
export const container = quantity('the size of the pot, as in "20 L", or ground');

export function oneOf<const Values extends readonly [string, ...string[]]>(values: Values) {
  return z.enum(values, { error: eitherOf(values) });
}

/** Words as a sentence lists them: a, b or c. */
export function eitherOf(values: readonly string[]): string {
  const last = values.at(-1);
  return values.length === 1 ? String(last) : `${values.slice(0, -1).join(', ')} or ${last}`;
}

/** A schema with the title that editors show for the file. */
export function titled<Schema extends z.ZodMiniType>(title: string, schema: Schema): Schema {
  z.globalRegistry.add(schema, { title });
  return schema;
}
