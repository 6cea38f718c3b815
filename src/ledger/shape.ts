import type { Diagnostic } from '../diagnostics/diagnostic.ts';
import type { SourceFile } from '../source/source-file.ts';
import { heldAgainstSchema } from './held-against-schema.ts';
import { plainFits } from './plain-fit.ts';
import { PLAIN_SHAPES } from './plain-shapes.ts';
import type { RawFile } from './schema/schemas.ts';
import type { SchemaName } from './schema-files.ts';

export interface Shaped<Value> {
  /** The value as the schema describes it, less what `bad` names. */
  readonly value: Value | undefined;
  /** Paths, joined by "/", of the entries that have something wrong and must be left out. */
  readonly bad: ReadonlySet<string>;
  readonly diagnostics: readonly Diagnostic[];
}

const FITS = plainFits(PLAIN_SHAPES);

/**
 * Holds a value against its schema. One wrong entry does not spoil its neighbours: what is wrong is
 * named by the first `depth` steps of its path, and the rest may be used.
 */
export function shape<Name extends SchemaName>(
  name: Name,
  value: unknown,
  file: SourceFile,
  depth: number,
): Shaped<RawFile<Name>> {
  return fitsPlainly(name, value)
    ? { value: value as RawFile<Name>, bad: new Set(), diagnostics: [] }
    : heldAgainstSchema(name, value, file, depth);
}

/** Whether a value is sound beyond doubt; where it is not, the schema has the last word. */
export function fitsPlainly(name: SchemaName, value: unknown): boolean {
  return FITS[name]?.(value) === true;
}
