import * as z from 'zod/mini';
import { HINTS } from '../entries/derive/hints.ts';
import { SCHEMAS } from '../entries/derive/schemas.ts';
import { CROPS, type Ledger, MEASURED_PARTS } from '../model/ledger.ts';
import { LISTS, type SchemaName } from './schema-files.ts';

export type JsonSchema = z.core.JSONSchema.BaseSchema;

/**
 * The JSON Schema (draft 7, which editors know best) of one kind of file, made from the zod schema
 * that reads it, with a hint on every key.
 *
 * It says what a value may look like. What relates two values (a tree that nobody listed, defects
 * that exceed the fruit) only `pomary check` can tell. So the ledger's own `words` are offered where
 * they fit, and others are not refused.
 */
export function jsonSchema(name: SchemaName, words: OwnWords = COMMON_WORDS): JsonSchema {
  const made: JsonSchema = z.toJSONSchema(SCHEMAS[name], {
    io: 'input',
    target: 'draft-07',
    unrepresentable: 'any',
  });
  eachPart(made, '', (part, path, isProperty) => {
    if (path === WORD_LISTS[name] && isSchema(part.items) && words.words.length > 0) {
      part.items.examples = [...words.words];
    }
    plainer(part, path);
    const hint = HINTS[name][path];
    if (isProperty && hint !== undefined) part.description = hint;
    const values = isProperty ? VALUES[path.split('.').at(-1) ?? ''] : undefined;
    if (values !== undefined && words[values].length > 0) part.examples = [...words[values]];
  });
  offerKeys(made, name, words);
  eachPart(made, '', byYear);
  return LISTS.has(name) ? orNothing(made) : made;
}

/** Allows what an empty file says, too. */
function orNothing(schema: JsonSchema): JsonSchema {
  return { ...schema, type: ['object', 'null'] } as unknown as JsonSchema;
}

/** Keys whose value is a word of the ledger's own. */
const VALUES: Readonly<Record<string, keyof OwnWords>> = {
  tree: 'trees',
  crop: 'crops',
  site: 'sites',
  cultivar: 'cultivars',
  same_as: 'cultivars',
  standard: 'cultivars',
};

/** Lists of words of the ledger's own, by their path. */
const WORD_LISTS: Readonly<Partial<Record<SchemaName, string>>> = {
  season: 'tastings.words.*.*',
};

/** Maps whose keys are words of the ledger's own, by their path. */
const KEYS: Readonly<Partial<Record<SchemaName, Readonly<Record<string, keyof OwnWords>>>>> = {
  ledger: { 'rank.weights': 'parts' },
  season: {
    'tastings.scores': 'tasters',
    'tastings.scores.*.*': 'traits',
    'tastings.words': 'tasters',
    'tastings.order': 'tasters',
  },
};

/** Lists the keys of a map beside what any key may hold; the innermost maps first, as they are copied. */
function offerKeys(schema: JsonSchema, name: SchemaName, words: OwnWords): void {
  const maps: (readonly [JsonSchema, keyof OwnWords])[] = [];
  eachPart(schema, '', (part, path) => {
    const keys = KEYS[name]?.[path];
    if (keys !== undefined && isSchema(part.additionalProperties)) maps.push([part, keys]);
  });
  for (const [map, keys] of maps.reverse()) {
    if (words[keys].length === 0) continue;
    map.properties = Object.fromEntries(
      words[keys].map((key) => [key, map.additionalProperties ?? true]),
    );
  }
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
  for (const any of [
    schema.additionalProperties,
    ...Object.values(schema.patternProperties ?? {}),
  ]) {
    if (isSchema(any)) eachPart(any, below('*'), visit, true);
  }
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
  if (isSchema(part.propertyNames)) {
    // Names are text wherever they stand; an editor that reads YAML may see a number in 2026.
    delete part.propertyNames.type;
    say(part.propertyNames, part.propertyNames.pattern, A_KEY);
  }
}

/** A map by years: to an editor the keys are numbers, which only properties by pattern take as they are. */
function byYear(part: JsonSchema): void {
  const { propertyNames, additionalProperties = true } = part;
  if (!isSchema(propertyNames) || propertyNames.pattern !== YEAR) return;
  part.patternProperties = { [YEAR]: additionalProperties };
  part.additionalProperties = false;
  delete part.propertyNames;
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
const YEAR = '^\\d{4}$';
const A_KEY = 'Write a short key: letters, digits, - _ and full stops, no spaces.';

/** What a ledger calls its things, for an editor to offer while someone types. */
export interface OwnWords {
  readonly trees: readonly string[];
  readonly cultivars: readonly string[];
  readonly sites: readonly string[];
  readonly tasters: readonly string[];
  readonly traits: readonly string[];
  readonly crops: readonly string[];
  /** What fruit tastes of. */
  readonly words: readonly string[];
  /** What the rank may weigh. */
  readonly parts: readonly string[];
}

/** The words of a ledger that is not at hand: what any ledger understands. */
const COMMON_WORDS: OwnWords = {
  trees: [],
  cultivars: [],
  sites: [],
  tasters: [],
  traits: [],
  crops: CROPS,
  words: [],
  parts: [],
};

export function ownWords({ trial, cultivars, trees }: Ledger): OwnWords {
  return {
    trees: [...trees.keys()],
    cultivars: [...cultivars.keys()],
    sites: [...trial.sites.keys()],
    tasters: [...trial.tasters.keys()],
    traits: trial.traits,
    crops: [...new Set([...CROPS.map((crop) => trial.cropNames[crop]), ...CROPS])],
    words: trial.words,
    parts: [...trial.traits, ...MEASURED_PARTS],
  };
}
