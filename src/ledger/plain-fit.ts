import type * as z from 'zod';

/** Whether a value is as a schema describes it, told without the reasons and without a copy. */
export type PlainFit = (value: unknown) => boolean;

const known = new WeakMap<z.core.$ZodType, PlainFit>();

/**
 * The quick question to ask before holding a value against its schema: a ledger has thousands of entries and
 * hardly ever anything wrong with one.
 *
 * Read off the schema itself, so that there is one description of the files. It says no to whatever it does not
 * know of, and the schema then has the last word: of a yes the schema must say the same.
 */
export function plainFit(schema: z.core.$ZodType): PlainFit {
  const made = known.get(schema);
  if (made !== undefined) return made;
  const fit = fitOf(schema as z.core.$ZodTypes);
  known.set(schema, fit);
  return fit;
}

const never: PlainFit = () => false;

function fitOf(schema: z.core.$ZodTypes): PlainFit {
  const { def } = schema._zod;
  switch (def.type) {
    case 'optional': {
      const inner = plainFit(def.innerType);
      return (value) => value === undefined || inner(value);
    }
    case 'nullable': {
      const inner = plainFit(def.innerType);
      return (value) => value === null || inner(value);
    }
    case 'string':
      return all((value) => typeof value === 'string', checksOf(def));
    case 'number':
      return all(Number.isFinite, checksOf(def));
    case 'boolean':
      return all((value) => typeof value === 'boolean', checksOf(def));
    case 'enum': {
      const values = new Set<unknown>(Object.values(def.entries));
      return all((value) => values.has(value), checksOf(def));
    }
    case 'literal': {
      const values = new Set<unknown>(def.values);
      return all((value) => values.has(value), checksOf(def));
    }
    case 'union': {
      const options = def.options.map(plainFit);
      return all((value) => options.some((fits) => fits(value)), checksOf(def));
    }
    case 'array': {
      const element = plainFit(def.element);
      return all((value) => Array.isArray(value) && value.every(element), checksOf(def));
    }
    case 'record':
      return all(recordFit(plainFit(def.keyType), plainFit(def.valueType)), checksOf(def));
    case 'object':
      // Only where no further keys are allowed is the copy that the schema makes the same as the value.
      return def.catchall?._zod.def.type === 'never'
        ? all(objectFit(def.shape), checksOf(def))
        : never;
    default:
      return never;
  }
}

function recordFit(key: PlainFit, inner: PlainFit): PlainFit {
  return (value) => {
    if (!isPlainObject(value)) return false;
    for (const name in value) if (!key(name) || !inner(value[name])) return false;
    return true;
  };
}

function objectFit(shape: Readonly<Record<string, z.core.$ZodType>>): PlainFit {
  const fits = new Map(Object.entries(shape).map(([key, inner]) => [key, plainFit(inner)]));
  const required = Object.keys(shape).filter((key) => shape[key]?._zod.optin !== 'optional');
  return (value) => {
    if (!isPlainObject(value)) return false;
    for (const key in value) if (fits.get(key)?.(value[key]) !== true) return false;
    return required.every((key) => key in value);
  };
}

function isPlainObject(value: unknown): value is Record<string, unknown> {
  return (
    typeof value === 'object' && value !== null && Object.getPrototypeOf(value) === Object.prototype
  );
}

function all(first: PlainFit, others: readonly PlainFit[]): PlainFit {
  const [second, ...more] = others;
  if (second === undefined) return first;
  return all((value) => first(value) && second(value), more);
}

/** The checks of a string, number or list beyond its type; a schema may be its own first check. */
function checksOf(def: z.core.$ZodTypes['_zod']['def']): readonly PlainFit[] {
  const own = 'check' in def ? [checkFit(def as unknown as z.core.$ZodChecks['_zod']['def'])] : [];
  const others = (def.checks ?? []).map((one) => checkFit((one as z.core.$ZodChecks)._zod.def));
  return [...own, ...others];
}

function checkFit(def: z.core.$ZodChecks['_zod']['def']): PlainFit {
  switch (def.check) {
    case 'greater_than': {
      const { value: limit, inclusive } = def;
      return (value) =>
        inclusive ? Number(value) >= Number(limit) : Number(value) > Number(limit);
    }
    case 'less_than': {
      const { value: limit, inclusive } = def;
      return (value) =>
        inclusive ? Number(value) <= Number(limit) : Number(value) < Number(limit);
    }
    case 'min_length':
      return (value) => (value as string | unknown[]).length >= def.minimum;
    case 'max_length':
      return (value) => (value as string | unknown[]).length <= def.maximum;
    case 'number_format':
      return def.format === 'safeint' ? Number.isSafeInteger : never;
    case 'string_format': {
      const { pattern } = def;
      if (pattern === undefined || pattern.global || pattern.sticky) return never;
      return def.format === 'regex' || def.format === 'date'
        ? (value) => pattern.test(value as string)
        : never;
    }
    default:
      return never;
  }
}
