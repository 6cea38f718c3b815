import { type Diagnostic, diagnose } from '../diagnostics/diagnostic.ts';
import { fileEmpty, fileMissing } from '../diagnostics/words/reading.ts';
import type { RawContents } from '../entries/derive/schemas.ts';
import type { SourceFile } from '../source/source-file.ts';
import type { Decoded } from './decode.ts';
import { LISTS, type SchemaName } from './schema-files.ts';
import { type Shaped, shape } from './shape.ts';
import type { YamlRead } from './yaml-read.ts';

/** What was made of one or some files, and what there was to say about them. */
export interface ReadPart<Made> {
  readonly made: Made;
  readonly diagnostics: readonly Diagnostic[];
  readonly incomplete: readonly string[];
}

export function partOf<Made>(
  files: ReadonlyMap<string, Decoded>,
  readYaml: Reading['readYaml'],
  make: (reading: Reading) => Made,
): ReadPart<Made> {
  const diagnostics: Diagnostic[] = [];
  const incomplete = new Set<string>();
  const report = (diagnostic: Diagnostic) => {
    diagnostics.push(diagnostic);
  };
  const made = make({ files, incomplete, readYaml, report });
  return { made, diagnostics, incomplete: [...incomplete] };
}

/** What the steps of reading share. */
export interface Reading {
  readonly files: ReadonlyMap<string, Decoded>;
  readonly incomplete: Set<string>;
  readYaml(file: SourceFile): YamlRead;
  report(diagnostic: Diagnostic): void;
}

/** A YAML file held against its schema; undefined where nothing can be used. */
export function readShaped<Name extends SchemaName>(
  reading: Reading,
  path: string,
  schema: Name,
  depth: number,
  example: string,
): (Shaped<RawContents<Name>> & { file: SourceFile }) | undefined {
  const decoded = reading.files.get(path);
  if (decoded === undefined) {
    const anchor = reading.files.get('ledger.yaml')?.file ?? { path, text: '', bom: false };
    reading.report(
      diagnose(fileMissing, { file: anchor, start: 0, end: 0 }, { file: path, example }),
    );
    reading.incomplete.add(path);
    return undefined;
  }
  if (decoded.diagnostics.length > 0) return undefined;
  const { file } = decoded;
  let read = reading.readYaml(file);
  for (const problem of read.diagnostics) reading.report(problem);
  if (read.diagnostics.length > 0) reading.incomplete.add(path);
  else if (LISTS.has(schema)) read = { ...read, value: read.value ?? {} };
  else if (read.value === undefined || read.value === null) {
    reading.report(diagnose(fileEmpty, { file, start: 0, end: 0 }, { example }));
    reading.incomplete.add(path);
    return undefined;
  }
  if (read.value === undefined) return undefined;
  const shaped = shape(schema, read.value, file, depth);
  for (const problem of shaped.diagnostics) reading.report(problem);
  if (shaped.bad.size > 0) reading.incomplete.add(path);
  return { ...shaped, file };
}
