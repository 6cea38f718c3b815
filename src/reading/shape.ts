import * as z from 'zod/mini';
import { type Diagnostic, diagnose } from '../diagnostics/diagnostic.ts';
import { didYouMean } from '../diagnostics/did-you-mean.ts';
import {
  colonMissing,
  dateUnreal,
  keyMissing,
  keyUnknown,
  keyWrong,
  valueWrong,
} from '../diagnostics/words/reading.ts';
import { CATALOGUE, SECTIONS } from '../entries/catalogue.ts';
import { cultivar } from '../entries/cultivar.ts';
import { type RawContents, SCHEMAS } from '../entries/derive/schemas.ts';
import { type Fields, isCalled } from '../entries/field.ts';
import { sample } from '../entries/tasting.ts';
import { tree } from '../entries/tree.ts';
import type { SourceFile, Spot } from '../source/source-file.ts';
import type { SchemaName } from './schema-files.ts';
import { shownValue } from './shown-value.ts';

export interface Shaped<Value> {
  /** The value as it was read, which is as the schema describes it but for what `bad` names. */
  readonly value: Value | undefined;
  /** Paths, joined by "/", of the entries that have something wrong and must be left out. */
  readonly bad: ReadonlySet<string>;
  readonly diagnostics: readonly Diagnostic[];
}

/**
 * Holds a value against its schema. One wrong entry does not spoil its neighbours: what is wrong is
 * named by the first `depth` steps of its path, and the rest may be used.
 */
export function shape<Name extends SchemaName>(
  name: Name,
  value: unknown,
  file: SourceFile,
  depth: number,
): Shaped<RawContents<Name>> {
  const schema: z.ZodMiniType = SCHEMAS[name];
  const result = schema.safeParse(value, { reportInput: true });
  if (result.success) {
    return { value: value as RawContents<Name>, bad: new Set(), diagnostics: [] };
  }
  const bad = new Set<string>();
  const diagnostics: Diagnostic[] = [];
  for (const issue of result.error.issues) {
    bad.add(issue.path.slice(0, depth).map(String).join('/'));
    diagnostics.push(...fromIssue(issue, name, value, file));
  }
  const usable = typeof value === 'object' && value !== null && !Array.isArray(value);
  return { value: usable ? (value as RawContents<Name>) : undefined, bad, diagnostics };
}

function fromIssue(
  issue: z.core.$ZodIssue,
  name: SchemaName,
  value: unknown,
  file: SourceFile,
): Diagnostic[] {
  const schema: z.ZodMiniType = SCHEMAS[name];
  const path = issue.path.map((step) => (typeof step === 'symbol' ? String(step) : step));
  const spot: Spot = { file, path, part: 'value' };
  const last = path.at(-1);
  const key = typeof last === 'number' ? nameOfItem(path) : (last ?? 'the file');
  switch (issue.code) {
    case 'unrecognized_keys': {
      const known = knownKeys(schema, path, value);
      return issue.keys.map((unknown) => {
        const at: Spot = { file, path: [...path, unknown], part: 'key' };
        const slipped = known.find((one) => lacksColon(value, path, unknown, one));
        if (slipped !== undefined) {
          const rest = unknown.slice(slipped.length).trim();
          return diagnose(colonMissing, at, { key: slipped, rest });
        }
        const meant = keyMeant(name, path, unknown);
        const isKnown = meant !== undefined && known.includes(meant);
        const nearest = isKnown ? meant : didYouMean(unknown, known);
        const facts = { key: unknown, nearest, known };
        return diagnose(keyUnknown, at, facts);
      });
    }
    case 'invalid_key': {
      const at: Spot = { file, path, part: 'key' };
      const expected = issue.issues[0]?.message ?? 'a plain key';
      return [diagnose(keyWrong, at, { key, expected })];
    }
    default: {
      const found = valueAt(value, path);
      if (found === undefined && typeof last === 'string') {
        // It is there without its colon, which is told at that key.
        const map = path.slice(0, -1);
        const beside = Object.keys(valueAt(value, map) ?? {});
        if (beside.some((one) => lacksColon(value, map, one, last))) return [];
        return [diagnose(keyMissing, spot, { key, expected: issue.message })];
      }
      if (issue.code === 'invalid_format' && issue.format === 'date') {
        return [diagnose(dateUnreal, spot, { key, found: shownValue(found) })];
      }
      if (
        issue.code === 'invalid_union' &&
        issue.discriminator !== undefined &&
        found === undefined
      ) {
        return [diagnose(keyMissing, spot, { key, expected: issue.message })];
      }
      const options = typeof found === 'string' ? choices(issue, schema, path, value) : [];
      const nearest = typeof found === 'string' ? didYouMean(found, options) : undefined;
      const facts = { key, expected: issue.message, found: shownValue(found), nearest };
      return [diagnose(valueWrong, spot, facts)];
    }
  }
}

/** The key of an entry, a cultivar or a tree that a word means by another name for it. */
function keyMeant(
  name: SchemaName,
  path: readonly (string | number)[],
  word: string,
): string | undefined {
  const section = SECTIONS.find((one) => one === path[0]);
  const fields: Fields =
    name === 'trees'
      ? tree.fields
      : name === 'cultivars'
        ? cultivar.fields
        : section === undefined
          ? {}
          : path.includes('samples')
            ? sample.fields
            : CATALOGUE[section].fields;
  return Object.keys(fields).find(
    (key) => fields[key] !== undefined && isCalled(fields[key], word),
  );
}

/** `{ crop main }` is a key "crop main" with nothing behind it. */
function lacksColon(
  value: unknown,
  path: readonly (string | number)[],
  written: string,
  key: string,
): boolean {
  return written.startsWith(`${key} `) && valueAt(value, [...path, written]) === null;
}

/** A list item is called by its list: "an item of weights". */
function nameOfItem(path: readonly (string | number)[]): string {
  const list = path.findLast((step) => typeof step === 'string');
  return list === undefined ? 'the item' : `an item of ${list}`;
}

function valueAt(value: unknown, path: readonly (string | number)[]): unknown {
  let current = value;
  for (const step of path) {
    if (typeof current !== 'object' || current === null || !Object.hasOwn(current, step))
      return undefined;
    current = (current as Record<string | number, unknown>)[step];
  }
  return current;
}

/** The words that may stand where another was found. */
function choices(
  issue: z.core.$ZodIssue,
  schema: z.ZodMiniType,
  path: readonly (string | number)[],
  value: unknown,
): readonly string[] {
  if (issue.code === 'invalid_value') return issue.values.map(String);
  if (issue.code !== 'invalid_union' || issue.discriminator === undefined) return [];
  const key = issue.discriminator;
  const union = unwrapped(schemaAt(schema, path.slice(0, -1), value));
  if (!(union instanceof z.ZodMiniDiscriminatedUnion)) return [];
  return union.def.options.flatMap((option) => {
    const kind = option instanceof z.ZodMiniObject ? option.shape[key] : undefined;
    return kind instanceof z.ZodMiniLiteral ? [...kind.def.values].map(String) : [];
  });
}

/** The keys that the schema knows in the map at a path. */
function knownKeys(
  schema: z.ZodMiniType,
  path: readonly (string | number)[],
  value: unknown,
): string[] {
  const map = chosen(unwrapped(schemaAt(schema, path, value)), valueAt(value, path));
  return map instanceof z.ZodMiniObject ? Object.keys(map.shape) : [];
}

/** The part of a schema that describes the value at a path. */
function schemaAt(
  schema: z.ZodMiniType,
  path: readonly (string | number)[],
  value: unknown,
): z.core.$ZodType | undefined {
  let current: z.core.$ZodType | undefined = schema;
  for (const [index, step] of path.entries()) {
    current = chosen(unwrapped(current), valueAt(value, path.slice(0, index)));
    if (current instanceof z.ZodMiniObject) current = current.shape[String(step)];
    else if (current instanceof z.ZodMiniArray) current = current.def.element;
    else if (current instanceof z.ZodMiniRecord) current = current.def.valueType;
    else return undefined;
  }
  return current;
}

function unwrapped(schema: z.core.$ZodType | undefined): z.core.$ZodType | undefined {
  let current = schema;
  while (current instanceof z.ZodMiniOptional || current instanceof z.ZodMiniNullable)
    current = current.def.innerType;
  return current;
}

/** Of a discriminated union, the form whose `kind` the value names. */
function chosen(schema: z.core.$ZodType | undefined, value: unknown): z.core.$ZodType | undefined {
  if (!(schema instanceof z.ZodMiniDiscriminatedUnion)) return schema;
  const kind = valueAt(value, ['kind']);
  return schema.def.options.find((option) => {
    const own = option instanceof z.ZodMiniObject ? option.shape['kind'] : undefined;
    return own !== undefined && z.safeParse(own, kind).success;
  });
}
