import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { Ajv } from 'ajv';
import { describe, expect, test } from 'vitest';
import { parse } from 'yaml';
import { jsonSchema } from '../src/reading/json-schema.ts';
import { DESCRIBED_FILES, SCHEMA_NAMES, type SchemaName } from '../src/reading/schema-files.ts';
import { starterFiles } from '../src/reading/starter-ledger.ts';
import { runOn } from './support/run-on.ts';

// A JSON Schema validator that knows nothing of pomary (ajv) holds files against the
// schemas; for each broken variant `pomary check` must refuse the file too.

const EXAMPLE = fileURLToPath(new URL('../ledger-example/', import.meta.url));
const paths = [
  ...['ledger.yaml', 'cultivars.yaml', 'trees.yaml'],
  ...readdirSync(`${EXAMPLE}seasons`).map((name) => `seasons/${name}`),
];
const example = Object.fromEntries(
  paths.map((path) => [path, readFileSync(`${EXAMPLE}${path}`, 'utf8')]),
);

const ajv = new Ajv({ allErrors: true, strict: false, validateFormats: false });
const validators = new Map(SCHEMA_NAMES.map((name) => [name, ajv.compile(jsonSchema(name))]));

function nameOf(path: string): SchemaName {
  return SCHEMA_NAMES.find((name) => DESCRIBED_FILES[name] === path) ?? 'season';
}

/** What the validator has against a file. */
function faults(path: string, text: string): readonly string[] {
  const validate = validators.get(nameOf(path));
  if (validate === undefined) throw new Error(`no schema for ${path}`);
  if (validate(parse(text, { version: '1.2', schema: 'core' }))) return [];
  return (validate.errors ?? []).map(({ instancePath, message }) => `${instancePath} ${message}`);
}

test.each(paths)('the example: %s is valid', (path) => {
  expect(faults(path, example[path] ?? '')).toEqual([]);
});

const SETTINGS = [
  { latitude: undefined, units: undefined, fruit: 'fig' },
  { latitude: -41, units: 'imperial', fruit: 'plum' },
] as const;
describe.each(SETTINGS)('a new ledger, %j', (settings) => {
  const files = starterFiles({ title: 'T', place: undefined, season: 2026, ...settings });
  test.each(files.filter(({ path }) => path.endsWith('.yaml')))('$path is valid', (file) => {
    expect(faults(file.path, file.text)).toEqual([]);
  });
});

const season = (entries: string) => ({ 'seasons/2026.yaml': `season: 2026\n${entries}` });
const trial = (from: string | RegExp, to: string) => ({
  'ledger.yaml': (example['ledger.yaml'] ?? '').replace(from, to),
});

/** What no editor should let pass, by what is wrong with it. */
const BROKEN: Readonly<Record<string, Readonly<Record<string, string>>>> = {
  'a key that nobody knows': trial('pollinator:', 'polinator:'),
  'a unit system that nobody knows': trial('units: metric', 'units: furlongs'),
  'a pole too far': trial('latitude: 52.1', 'latitude: 152.1'),
  'a method that nobody knows': trial('method: mean', 'method: median'),
  'a point of three': trial('[[0, 1], [4, 10]]', '[[0, 1, 2], [4, 10]]'),
  'a point of one': trial('[[0, 1], [4, 10]]', '[[0], [4, 10]]'),
  'a weight below 0': trial('flavour: 3', 'flavour: -3'),
  'a frost in a thirteenth month': trial('2024-11-03', '2024-13-03'),
  'a key with a blank': trial('mara: Mara', 'mara b: Mara'),
  'a roof that nobody knows': trial('cover: glass', 'cover: thatch'),
  'no title': trial(/^title:.*\n/m, ''),
  'a fig type that nobody knows': { 'cultivars.yaml': 'a: { name: A, bears: commun }\n' },
  'a name that is a number': { 'cultivars.yaml': 'a: { name: 12, bears: common }\n' },
  'a tree without a site': { 'trees.yaml': 'T1: { cultivar: slate-quay }\n' },
  'a month that is none': {
    'trees.yaml': 'T1: { cultivar: slate-quay, site: yard, planted: 2024-13 }\n',
  },
  'a pot of words': {
    'trees.yaml': 'T1: { cultivar: slate-quay, site: yard, container: large }\n',
  },
  'a count without a day': season('counts:\n  - { tree: G3, crop: early, fruit: 3 }\n'),
  'a day that never was': season(
    'counts:\n  - { on: 2026-02-30, tree: G3, crop: early, fruit: 3 }\n',
  ),
  'half a fruit': season('counts:\n  - { on: 2026-07-03, tree: G3, crop: early, fruit: 3.5 }\n'),
  'fruit below 0': season('drops:\n  - { on: 2026-07-03, tree: G3, crop: early, fruit: -1 }\n'),
  'no branches at all': season(
    'counts:\n  - { on: 2026-07-03, tree: G3, crop: early, fruit: 1, branches: 0 }\n',
  ),
  'one weight instead of a list': season(
    'picks:\n  - { on: 2026-07-03, tree: G3, crop: early, weights: 52 }\n',
  ),
  'a weight in words': season(
    'picks:\n  - { on: 2026-07-03, tree: G3, crop: early, weights: [heavy] }\n',
  ),
  'a sample that nobody knows': season(
    'picks:\n  - { on: 2026-07-03, tree: G3, crop: early, fruit: 2, sample: worst }\n',
  ),
  'a ripeness that nobody knows': season(
    'tastings:\n  - { on: 2026-07-03, samples: [{ tree: G3, crop: early, ripeness: soft }] }\n',
  ),
  'a score in words': season(
    'tastings:\n  - { on: 2026-07-03, samples: [{ tree: G3, crop: early }], scores: { mara: { G3: { flavour: nice } } } }\n',
  ),
  syrup: season(
    'tastings:\n  - { on: 2026-07-03, samples: [{ tree: G3, crop: early, brix: 145 }] }\n',
  ),
  'a spray without waiting days': season(
    'events:\n  - { on: 2026-07-03, tree: G3, kind: spray, product: soap }\n',
  ),
  'a kind that nobody knows': season('events:\n  - { on: 2026-07-03, tree: G3, kind: sing }\n'),
  'a list where a map belongs': { 'trees.yaml': '- { cultivar: slate-quay, site: yard }\n' },
};

test.each(Object.entries(BROKEN))('%s is refused, by pomary as by the schema', async (_, files) => {
  const [[path, text] = ['', '']] = Object.entries(files);
  expect(text).not.toBe(example[path]);
  expect(faults(path, text)).not.toEqual([]);
  const { exit, out } = await runOn(['check', '--format', 'json'], { ...example, ...files });
  expect(exit).toBe(1);
  expect(out).toContain(path);
});
