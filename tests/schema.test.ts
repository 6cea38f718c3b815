import { expect, test } from 'vitest';
import { SCHEMA_NAMES, schemaPath } from '../src/reading/schema-files.ts';
import { runOn } from './support/run-on.ts';

const LEDGER = {
  'ledger.yaml': 'title: T\nfruit: fig\ntraits: [flavour]\nsites: {}\n',
  'cultivars.yaml': '# yaml-language-server: $schema=schema/cultivars.schema.json\n{}\n',
  'trees.yaml': '{}\n',
  'seasons/2026.yaml': 'season: 2026\n',
};

test('prints one', async () => {
  const { exit, out } = await runOn(['schema', 'season'], {});
  expect(exit).toBe(0);
  expect(JSON.parse(out)).toMatchObject({
    title: 'pomary: seasons/YYYY.yaml',
    required: ['season'],
    additionalProperties: false,
  });
});

test('writes one to a file', async () => {
  const printed = await runOn(['schema', 'trees'], {});
  const written = await runOn(['schema', 'trees', '--output', 'a.json'], {});
  expect(written.out).toBe('');
  expect(written.files).toEqual({ 'a.json': printed.out });
});

test('lists what there is, and needs no ledger for it', async () => {
  const { exit, out } = await runOn(['schema'], {});
  expect(exit).toBe(0);
  for (const name of SCHEMA_NAMES) expect(out).toMatch(new RegExp(`^${name} +\\S+\\.yaml$`, 'm'));
});

test('puts all into the ledger, and tells which files do not name theirs', async () => {
  const { exit, out, files } = await runOn(['schema', '--write'], LEDGER);
  expect(exit).toBe(0);
  for (const name of ['cultivars', 'trees'] as const) {
    expect(files[schemaPath(name)]).toBe((await runOn(['schema', name], {})).out);
  }
  // The words of this ledger go along, here its one trait.
  const properties = { flavour: { type: 'number' }, size: { type: 'number' } };
  const weights = { properties, additionalProperties: { type: 'number' } };
  expect(JSON.parse(files['schema/ledger.schema.json'] ?? '')).toMatchObject({
    properties: { rank: { properties: { weights } } },
  });
  expect(out).toContain(
    'seasons/2026.yaml:\n  # yaml-language-server: $schema=../schema/season.schema.json',
  );
  expect(out).not.toContain('$schema=schema/cultivars.schema.json');
  expect(files).toMatchObject(LEDGER);
});

test('what does not go together is refused', async () => {
  expect((await runOn(['schema', 'trees', '--write'], LEDGER)).exit).toBe(2);
  expect((await runOn(['schema', '--output', 'a.json'], LEDGER)).exit).toBe(2);
  expect((await runOn(['schema', 'apples'], LEDGER)).exit).toBe(2);
  expect((await runOn(['schema', '--write'], {})).exit).toBe(2);
});
