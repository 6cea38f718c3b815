import type { PlainCheck, PlainShape, PlainShapes } from './plain-shape.ts';

/** Whether a value is as a schema describes it, told without the reasons and without a copy. */
export type PlainFit = (value: unknown) => boolean;

/**
 * The quick question to ask before holding a value against its schema: a ledger has thousands of entries and
 * hardly ever anything wrong with one.
 *
 * It goes by shapes that are read off the schemas, so that there is one description of the files. It says no to
 * whatever they cannot tell, and the schema then has the last word: of a yes the schema must say the same.
 */
export function plainFits(shapes: PlainShapes): Readonly<Record<string, PlainFit>> {
  const made: PlainFit[] = [];
  // A part stands behind all that it is made of.
  for (const part of shapes.parts) made.push(fitOf(part, (at) => made[at] ?? never));
  const roots = Object.entries(shapes.roots).map(([name, at]) => [name, made[at] ?? never]);
  return Object.fromEntries(roots);
}

const never: PlainFit = () => false;

function fitOf(shape: PlainShape, at: (place: number) => PlainFit): PlainFit {
  return all(kindFit(shape, at), (shape.checks ?? []).map(checkFit));
}

function kindFit(shape: PlainShape, at: (place: number) => PlainFit): PlainFit {
  switch (shape.is) {
    case 'optional': {
      const inner = at(shape.of);
      return (value) => value === undefined || inner(value);
    }
    case 'nullable': {
      const inner = at(shape.of);
      return (value) => value === null || inner(value);
    }
    case 'string':
      return (value) => typeof value === 'string';
    case 'number':
      return Number.isFinite;
    case 'boolean':
      return (value) => typeof value === 'boolean';
    case 'one of': {
      const values = new Set(shape.values);
      return (value) => values.has(value);
    }
    case 'union': {
      const options = shape.of.map(at);
      return (value) => options.some((fits) => fits(value));
    }
    case 'tuple': {
      const items = shape.of.map(at);
      return (value) =>
        Array.isArray(value) &&
        value.length === items.length &&
        items.every((fits, place) => fits(value[place]));
    }
    case 'array': {
      const element = at(shape.of);
      return (value) => Array.isArray(value) && value.every(element);
    }
    case 'record':
      return recordFit(at(shape.key), at(shape.of));
    case 'object': {
      const keys = Object.entries(shape.keys).map(([key, place]) => [key, at(place)] as const);
      return objectFit(new Map(keys), shape.required);
    }
    case 'unknown':
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

function objectFit(fits: ReadonlyMap<string, PlainFit>, required: readonly string[]): PlainFit {
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

function checkFit(one: PlainCheck): PlainFit {
  switch (one.check) {
    case 'above':
      return (value) => Number(value) > one.limit;
    case 'below':
      return (value) => Number(value) < one.limit;
    case 'at least':
      return (value) => Number(value) >= one.limit;
    case 'at most':
      return (value) => Number(value) <= one.limit;
    case 'shortest':
      return (value) => (value as string | unknown[]).length >= one.limit;
    case 'longest':
      return (value) => (value as string | unknown[]).length <= one.limit;
    case 'safe integer':
      return Number.isSafeInteger;
    case 'pattern': {
      const pattern = new RegExp(one.source, one.flags);
      return (value) => pattern.test(value as string);
    }
    case 'unknown':
      return never;
  }
}
