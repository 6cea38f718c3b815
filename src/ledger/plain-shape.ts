import type * as z from 'zod';

/** What `plainFit` needs to know of some schemas, as plain data; parts name each other by their place in the list. */
export interface PlainShapes {
  readonly parts: readonly PlainShape[];
  /** The parts that the schemas themselves are. */
  readonly roots: Readonly<Record<string, number>>;
}

export type PlainShape = { readonly checks?: readonly PlainCheck[] } & (
  | { readonly is: 'optional' | 'nullable' | 'array'; readonly of: number }
  | { readonly is: 'string' | 'number' | 'boolean' | 'unknown' }
  | { readonly is: 'one of'; readonly values: readonly unknown[] }
  | { readonly is: 'union' | 'tuple'; readonly of: readonly number[] }
  | { readonly is: 'record'; readonly key: number; readonly of: number }
  | {
      readonly is: 'object';
      readonly keys: Readonly<Record<string, number>>;
      readonly required: readonly string[];
    }
);

export type PlainCheck =
  | {
      readonly check: 'above' | 'below' | 'at least' | 'at most' | 'shortest' | 'longest';
      readonly limit: number;
    }
  | { readonly check: 'safe integer' | 'unknown' }
  | { readonly check: 'pattern'; readonly source: string; readonly flags: string };

/** Reads off schemas what values they take, as far as it can be said plainly; the rest is `unknown`. */
export function plainShapes(schemas: Readonly<Record<string, z.core.$ZodType>>): PlainShapes {
  const parts: PlainShape[] = [];
  const known = new Map<z.core.$ZodType, number>();
  const place = (schema: z.core.$ZodType): number => {
    const before = known.get(schema);
    if (before !== undefined) return before;
    const shape = shapeOf(schema as z.core.$ZodTypes, place);
    parts.push(shape);
    known.set(schema, parts.length - 1);
    return parts.length - 1;
  };
  const roots = Object.entries(schemas).map(([name, schema]) => [name, place(schema)] as const);
  return { parts, roots: Object.fromEntries(roots) };
}

function shapeOf(schema: z.core.$ZodTypes, place: (schema: z.core.$ZodType) => number): PlainShape {
  const { def } = schema._zod;
  const checks = checksOf(def);
  const checked = checks.length === 0 ? {} : { checks };
  switch (def.type) {
    case 'optional':
    case 'nullable':
      return { is: def.type, of: place(def.innerType) };
    case 'string':
    case 'number':
    case 'boolean':
      return { is: def.type, ...checked };
    case 'enum':
      return { is: 'one of', values: Object.values(def.entries), ...checked };
    case 'literal':
      return { is: 'one of', values: def.values, ...checked };
    case 'union':
      return { is: 'union', of: def.options.map(place), ...checked };
    case 'tuple':
      return def.rest === null && def.items.every((item) => item._zod.optin === undefined)
        ? { is: 'tuple', of: def.items.map(place), ...checked }
        : { is: 'unknown' };
    case 'array':
      return { is: 'array', of: place(def.element), ...checked };
    case 'record':
      return { is: 'record', key: place(def.keyType), of: place(def.valueType), ...checked };
    case 'object': {
      // Only where no further keys are allowed is the copy that the schema makes the same as the value.
      if (def.catchall?._zod.def.type !== 'never') return { is: 'unknown' };
      const own = Object.entries(def.shape);
      return {
        is: 'object',
        keys: Object.fromEntries(own.map(([key, inner]) => [key, place(inner)])),
        required: own.flatMap(([key, inner]) => (inner._zod.optin === 'optional' ? [] : [key])),
        ...checked,
      };
    }
    default:
      return { is: 'unknown' };
  }
}

/** The checks of a string, number or list beyond its type; a schema may be its own first check. */
function checksOf(def: z.core.$ZodTypes['_zod']['def']): readonly PlainCheck[] {
  const own = 'check' in def ? [checkOf(def as unknown as z.core.$ZodChecks['_zod']['def'])] : [];
  const others = (def.checks ?? []).map((one) => checkOf((one as z.core.$ZodChecks)._zod.def));
  return [...own, ...others];
}

function checkOf(def: z.core.$ZodChecks['_zod']['def']): PlainCheck {
  switch (def.check) {
    case 'greater_than':
      return { check: def.inclusive ? 'at least' : 'above', limit: Number(def.value) };
    case 'less_than':
      return { check: def.inclusive ? 'at most' : 'below', limit: Number(def.value) };
    case 'min_length':
      return { check: 'shortest', limit: def.minimum };
    case 'max_length':
      return { check: 'longest', limit: def.maximum };
    case 'number_format':
      return { check: def.format === 'safeint' ? 'safe integer' : 'unknown' };
    case 'string_format': {
      const { pattern, format } = def;
      if (pattern === undefined || pattern.global || pattern.sticky) return { check: 'unknown' };
      if (format !== 'regex' && format !== 'date') return { check: 'unknown' };
      return { check: 'pattern', source: pattern.source, flags: pattern.flags };
    }
    default:
      return { check: 'unknown' };
  }
}
