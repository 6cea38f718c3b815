import { readdirSync, readFileSync } from 'node:fs';
import { join, relative } from 'node:path';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';

const ROOT = fileURLToPath(new URL('..', import.meta.url));

/** Which rooms a room may import from. This table is the authority; DEVELOPERS.md explains it. */
const MAY_IMPORT: Readonly<Record<string, readonly string[]>> = {
  source: [],
  stats: [],
  diagnostics: ['source', 'stats'],
  model: ['source'],
  entries: ['model'],
  reading: ['source', 'diagnostics', 'model', 'entries'],
  checks: ['source', 'diagnostics', 'model', 'stats', 'measure'],
  writing: ['source', 'diagnostics', 'model', 'entries', 'reading'],
  measure: ['model', 'stats'],
  judge: ['model', 'stats', 'measure'],
  report: ['model', 'entries', 'measure', 'judge'],
  render: ['report', 'diagnostics', 'source'],
  cli: [
    'source',
    'stats',
    'diagnostics',
    'model',
    'entries',
    'reading',
    'checks',
    'writing',
    'measure',
    'judge',
    'report',
    'render',
    'top',
  ],
};

/** Where each outside package may be imported. */
const PACKAGE_ROOMS: Readonly<Record<string, RegExp>> = {
  '@resvg': /^src\/render\/figure-png\.ts$/,
  '@stdlib': /^src\/stats\//,
  chalk: /^src\/render\/style\.ts$/,
  'cli-table3': /^src\/render\/text-grid\.ts$/,
  commander: /^src\/cli\//,
  'csv-parse': /^src\/(reading\/read-weather|writing\/.*)\.ts$/,
  'js-yaml': /^src\/reading\/yaml-.*\.ts$/,
  'vega-lite': /^src\/render\/figure-svg\.ts$/,
  vega: /^src\/render\/figure-svg\.ts$/,
  'ml-matrix': /^src\/stats\//,
  'simple-statistics': /^src\/stats\//,
  'string-width': /^src\/source\//,
  yaml: /^src\/(source\/late|reading\/yaml-problems|writing\/.*)\.ts$/,
  zod: /^src\/(entries|reading)\//,
};

function sources(): readonly string[] {
  return readdirSync(join(ROOT, 'src'), { recursive: true, encoding: 'utf8' })
    .map((path) => join('src', path).replaceAll('\\', '/'))
    .filter((path) => path.endsWith('.ts') && !path.endsWith('.test.ts'));
}

function importsOf(path: string): readonly string[] {
  const text = readFileSync(join(ROOT, path), 'utf8');
  return [...text.matchAll(/\b(?:from|import)(?:\s+|\s*\(\s*)['"]([^'"]+)['"]/g)].map(
    (found) => found[1] ?? '',
  );
}

/** The first folder below src, or `top` for a file that stands directly in src. */
function roomOf(path: string): string {
  const parts = path.split('/');
  return parts.length > 2 ? (parts[1] ?? '') : 'top';
}

test('rooms import only what the table allows', () => {
  const broken = sources().flatMap((path) => {
    const allowed = MAY_IMPORT[roomOf(path)];
    if (allowed === undefined) return [];
    return importsOf(path)
      .filter((name) => name.startsWith('.'))
      .map((name) => roomOf(relative(ROOT, join(ROOT, path, '..', name)).replaceAll('\\', '/')))
      .filter((room) => room !== roomOf(path) && !allowed.includes(room))
      .map((room) => `${path} imports ${room}`);
  });
  expect(broken).toEqual([]);
});

test('each outside package stays in its rooms', () => {
  const broken = sources().flatMap((path) =>
    importsOf(path)
      .filter((name) => !name.startsWith('.') && !name.startsWith('node:'))
      .map((name) => name.split('/')[0] ?? '')
      .filter((name) => {
        const rooms = PACKAGE_ROOMS[name];
        return rooms === undefined || !rooms.test(path);
      })
      .map((name) => `${path} imports ${name}`),
  );
  expect(broken).toEqual([]);
});

/** Loads packages late, by a way that Node has for it. */
const LATE = 'src/source/late.ts';

test('only the outermost files touch the machine', () => {
  const broken = sources().filter(
    (path) =>
      !/^src\/(main|host\/[a-z-]+)\.ts$/.test(path) &&
      path !== LATE &&
      (/\bprocess\./.test(readFileSync(join(ROOT, path), 'utf8')) ||
        importsOf(path).some((name) => name.startsWith('node:') && name !== 'node:path')),
  );
  expect(broken).toEqual([]);
});

/** Its functions are named by the commands that they stand for. */
const LIBRARY_FACE = 'src/index.ts';

test('an exported name has one meaning', () => {
  const placesOf = new Map<string, string[]>();
  for (const path of sources().filter((one) => one !== LIBRARY_FACE)) {
    const text = readFileSync(join(ROOT, path), 'utf8');
    // Overloads of a function are one.
    const names = new Set([...text.matchAll(DECLARED)].map((found) => found[1] ?? ''));
    for (const name of names) placesOf.set(name, [...(placesOf.get(name) ?? []), path]);
  }
  const twice = [...placesOf].filter(([, places]) => places.length > 1);
  expect(twice.map(([name, places]) => `${name}: ${places.join(', ')}`)).toEqual([]);
  expect(placesOf.size).toBeGreaterThan(1000);
});

const DECLARED =
  /^export (?:declare )?(?:async )?(?:abstract )?(?:interface|type|const|let|function\*?|class|enum) (\w+)/gm;

test('tests that stand beside a unit run no command: those stand in tests/', () => {
  const broken = readdirSync(join(ROOT, 'src'), { recursive: true, encoding: 'utf8' })
    .map((path) => join('src', path).replaceAll('\\', '/'))
    .filter((path) => path.endsWith('.test.ts'))
    .filter((path) =>
      importsOf(path).some((name) => /(?:cli\/run|support\/(?:run-|pomary))/.test(name)),
    );
  expect(broken).toEqual([]);
});
