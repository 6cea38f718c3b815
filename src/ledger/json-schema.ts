import * as z from 'zod/mini';
import { SCHEMAS } from './schema/schemas.ts';
import type { SchemaName } from './schema-files.ts';
import { HINTS } from './schema-hints.ts';

export type JsonSchema = z.core.JSONSchema.BaseSchema;

/**
 * The JSON Schema (draft 7, which editors know best) of one kind of file, made from the zod schema
 * that reads it, with a hint on every key.
 *
 * It says what a value may look like. What relates two values (a tree that nobody listed, defects
 * that exceed the fruit) only `pomary check` can tell.
 */
export function jsonSchema(name: SchemaName): JsonSchema {
  const made: JsonSchema = z.toJSONSchema(SCHEMAS[name], {
    io: 'input',
    target: 'draft-07',
    unrepresentable: 'any',
  });
  eachPart(made, '', (part, path, isProperty) => {
    plainer(part, path);
    const hint = HINTS[name][path];
    if (isProperty && hint !== undefined) part.description = hint;
  });
  return made;
}

/** Visits a schema and all parts of it; `path` is that of keys, `*` where any key may stand. */
export function eachPart(
  schema: JsonSchema,
  path: string,
  visit: (part: JsonSchema, path: string, isProperty: boolean) => void,
  isProperty = false,
): void {
  visit(schema, path, isProperty);
  for (const one of [...(schema.anyOf ?? []), ...(schema.oneOf ?? []), schema.items].flat()) {
    if (isSchema(one)) eachPart(one, path, visit);
  }
  const below = (key: string) => (path === '' ? key : `${path}.${key}`);
  for (const [key, one] of Object.entries(schema.properties ?? {})) {
    if (isSchema(one)) eachPart(one, below(key), visit, true);
  }
  const any = schema.additionalProperties;
  if (isSchema(any)) eachPart(any, below('*'), visit, true);
}

function isSchema(one: unknown): one is JsonSchema {
  return typeof one === 'object' && one !== null;
}

/** Takes out what only computers need to know, and says in words what a pattern asks for. */
function plainer(part: JsonSchema, path: string): void {
  if (part.minimum === Number.MIN_SAFE_INTEGER) delete part.minimum;
  if (part.maximum === Number.MAX_SAFE_INTEGER) delete part.maximum;
  delete part.description;
  if (part.format === 'date') say(part, part.pattern, 'Write a date that exists as YYYY-MM-DD.');
  const last = path.split('.').at(-1) ?? '';
  if (PARTLY_DATED.has(last) && part.type === 'string') {
    say(part, PARTIAL_DATE, 'Write a day, a month or a year: YYYY-MM-DD, YYYY-MM or YYYY.');
  }
  if (Array.isArray(part.type) && part.type.includes('number')) {
    if (last === 'container') {
      say(part, POT, 'Write ground, or the size of the pot with its unit, as "20 L".');
    } else say(part, QUANTITY, 'Write a number, or a number with its unit, as "2.1 oz".');
  }
  if (isSchema(part.propertyNames) && part.propertyNames.pattern !== undefined) {
    const year = part.propertyNames.pattern.includes('d{4}');
    say(part.propertyNames, part.propertyNames.pattern, year ? A_YEAR : A_KEY);
  }
}

/** A pattern with what an editor says where it does not fit; validators pass over the words. */
function say(part: JsonSchema, pattern: string | undefined, words: string): void {
  if (pattern !== undefined) Object.assign(part, { pattern, patternErrorMessage: words });
}

const PARTLY_DATED = new Set(['received', 'planted', 'removed']);
const PARTIAL_DATE = '^\\d{4}(-(0[1-9]|1[0-2])(-(0[1-9]|[12]\\d|3[01]))?)?$';
const NUMBER = '[+-]?(\\d+(\\.\\d+)?|\\.\\d+)';
const QUANTITY = `^\\s*${NUMBER}\\s*([^\\d\\s].*)?$`;
const POT = `^(ground|\\s*${NUMBER}\\s*([^\\d\\s].*)?)$`;
const A_YEAR = 'Write a year, as 2026.';
const A_KEY = 'Write a short key: letters, digits, - _ and full stops, no blanks.';
