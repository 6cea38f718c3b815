import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';
import { jsonSchema, ownWords } from '../src/reading/json-schema.ts';
import {
  DESCRIBED_FILES,
  editorLine,
  SCHEMA_NAMES,
  schemaPath,
} from '../src/reading/schema-files.ts';
import { ledgerFrom } from './support/ledger-from.ts';

const EXAMPLE = fileURLToPath(new URL('../ledger-example/', import.meta.url));
const read = (path: string) => readFileSync(`${EXAMPLE}${path}`, 'utf8');

const ledger = ledgerFrom(
  Object.fromEntries(
    [
      ...['ledger.yaml', 'cultivars.yaml', 'trees.yaml'],
      ...readdirSync(`${EXAMPLE}seasons`).map((year) => `seasons/${year}`),
    ].map((path) => [path, read(path)]),
  ),
);

// `pomary schema --write` in ledger-example/ renews them.
test.each(SCHEMA_NAMES)('the example holds the schema of %s as it is now', (name) => {
  expect(JSON.parse(read(schemaPath(name)))).toEqual(
    JSON.parse(JSON.stringify(jsonSchema(name, ownWords(ledger)))),
  );
});

test.each(SCHEMA_NAMES)('the example names its schema of %s', (name) => {
  const paths =
    name === 'season'
      ? readdirSync(`${EXAMPLE}seasons`).map((year) => `seasons/${year}`)
      : [DESCRIBED_FILES[name]];
  expect(paths).not.toEqual([]);
  for (const path of paths) expect(read(path).split('\n')[0]).toBe(editorLine(name));
});
