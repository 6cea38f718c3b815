/** The kinds of file that a ledger has; each has a JSON Schema for editors. */
export const SCHEMA_NAMES = ['ledger', 'cultivars', 'trees', 'season'] as const;
export type SchemaName = (typeof SCHEMA_NAMES)[number];

/** Files that list things: where nothing is written, nothing is listed yet. */
export const LISTS: ReadonlySet<SchemaName> = new Set<SchemaName>(['cultivars', 'trees']);

/** Which files of a ledger a schema describes, for people. */
export const DESCRIBED_FILES: Readonly<Record<SchemaName, string>> = {
  ledger: 'ledger.yaml',
  cultivars: 'cultivars.yaml',
  trees: 'trees.yaml',
  season: 'seasons/YYYY.yaml',
};

/** Where a ledger keeps the schema, relative to its folder: in sight, and in git like the rest. */
export function schemaPath(name: SchemaName): string {
  return `schema/${name}.schema.json`;
}

/**
 * The comment by which editors with YAML support find the schema of a file. The path is read from
 * where the file stands.
 */
export function editorLine(name: SchemaName): string {
  const up = name === 'season' ? '../' : '';
  return `# yaml-language-server: $schema=${up}${schemaPath(name)}`;
}
