import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { basename, dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { LanguageServer } from './support/language-server.ts';
import { layFiles } from './support/lay-files.ts';
import { runOn } from './support/run-on.ts';
import { withExamples } from './support/with-examples.ts';

// What people see in an editor while they type: the YAML language server that editors with YAML
// support run reads the files with the schemas they name.

const EXAMPLE = fileURLToPath(new URL('../ledger-example', import.meta.url));
const FILES = [
  ...['ledger.yaml', 'cultivars.yaml', 'trees.yaml'],
  ...readdirSync(`${EXAMPLE}/seasons`).map((name) => `seasons/${name}`),
];

let server: LanguageServer;
beforeAll(async () => {
  server = await LanguageServer.start(EXAMPLE);
});
afterAll(() => server.stop());

let opened = 0;

/** Opens a text as a file of its own, which stands where that of a path does. */
async function opening(like: string, text: string) {
  opened += 1;
  const path = join(dirname(like), `${opened}-${basename(like)}`);
  return { path, marks: await server.open(path, text) };
}

/** What is marked in a text that stands where the file of a path would, as `line message`. */
async function marked(like: string, text: string): Promise<readonly string[]> {
  const { marks } = await opening(like, text);
  return marks.map(({ range, message }) => `${range.start.line + 1} ${message}`);
}

test.each(FILES)('nothing is marked in the example: %s', async (path) => {
  const text = readFileSync(join(EXAMPLE, path), 'utf8');
  expect(await marked(join(EXAMPLE, path), text)).toEqual([]);
});

describe.each([
  [],
  ['--fruit', 'gooseberry', '--units', 'imperial'],
  ['--latitude', '-41.3', '--title', 'On: "trial" #1'],
])('nothing is marked in a fresh ledger: init %s %s %s %s', (...argv: string[]) => {
  test.each([false, true])('its examples made live: %s', async (live) => {
    const root = mkdtempSync(join(tmpdir(), 'pomary-editor-'));
    try {
      const { files } = await runOn(['init', ...argv.filter((word) => word !== undefined)], {});
      layFiles(root, files);
      const yaml = Object.entries(files).filter(([path]) => path.endsWith('.yaml'));
      expect(yaml.length).toBe(4);
      for (const [path, text] of yaml) {
        const shown = live ? withExamples(path, text) : text;
        expect(shown === text, path).toBe(!live);
        expect(await marked(join(root, path), shown), path).toEqual([]);
      }
    } finally {
      rmSync(root, { recursive: true, force: true });
    }
  });
});

const editorLine = (path: string) => readFileSync(join(EXAMPLE, path), 'utf8').split('\n')[0];

/** A season of one entry, under the line that names its schema. */
const season = (entry: string) => `${editorLine('seasons/2026.yaml')}\nseason: 2026\n${entry}\n`;

describe('slips are marked', () => {
  test.each([
    ['counts:\n  - { on: 2026-07-02, tree: G3, crop: early, fruits: 3 }', /fruits/],
    ['counts:\n  - { on: 2.7.2026, tree: G3, crop: early, fruit: 3 }', /YYYY-MM-DD/],
    ['picks:\n  - { on: 2026-07-02, tree: G3, crop: early, weights: [heavy] }', /number/],
    ['events:\n  - { on: 2026-07-02, tree: G3, kind: sing }', /kind|move/],
  ])('%s', async (entry, words) => {
    const found = await marked(join(EXAMPLE, 'seasons/2026.yaml'), season(entry));
    expect(found.length).toBeGreaterThan(0);
    expect(found.join('\n')).toMatch(words);
    for (const one of found) expect(one).toMatch(/^4 /);
  });

  test('frost of a year that is none', async () => {
    const path = join(EXAMPLE, 'ledger.yaml');
    const text = readFileSync(path, 'utf8').replace('frost: { 2024:', 'frost: { 24:');
    expect((await marked(path, text)).join()).toMatch(/^\d+ Property 24 is not allowed/);
  });

  test('a tree, taster or crop that the schema does not list is none', async () => {
    const entry = `counts:
  - { on: 2026-07-02, tree: NEW9, crop: breba, fruit: 3 }
tastings:
  - on: 2026-07-24
    samples: [{ tree: NEW9, crop: main }]
    scores: { guest: { NEW9: { crunch: 7 } } }
    order: { guest: [NEW9] }`;
    expect(await marked(join(EXAMPLE, 'seasons/2026.yaml'), season(entry))).toEqual([]);
  });
});

/** What is offered at the end of a text that stands where the file of a path would. */
async function offered(like: string, text: string): Promise<readonly string[]> {
  const lines = text.split('\n');
  const { path } = await opening(join(EXAMPLE, like), text);
  return server.offered(path, lines.length - 1, lines.at(-1)?.length ?? 0);
}

describe("the ledger's own words are offered", () => {
  test.each([
    ['seasons/2026.yaml', 'counts:\n  - tree: ', ['G3', 'Y6', 'P10']],
    ['seasons/2026.yaml', 'counts:\n  - crop: ', ['early', 'main', 'breba']],
    ['seasons/2026.yaml', 'events:\n  - kind: move\n    site: ', ['glass', 'yard', 'plot']],
    ['seasons/2026.yaml', 'tastings:\n  - scores:\n      ', ['mara', 'joss', 'odo', 'wren']],
    ['seasons/2026.yaml', 'tastings:\n  - order:\n      ', ['mara', 'joss', 'odo', 'wren']],
    [
      'seasons/2026.yaml',
      'tastings:\n  - scores:\n      mara:\n        G3:\n          ',
      ['flavour'],
    ],
    ['trees.yaml', 'G99:\n  cultivar: ', ['amber-lantern', 'ferry-bell']],
    ['trees.yaml', 'G99:\n  site: ', ['glass', 'yard', 'plot']],
    ['cultivars.yaml', 'new-one:\n  perhaps:\n    same_as: ', ['amber-lantern']],
    ['ledger.yaml', 'standard: ', ['amber-lantern']],
    ['ledger.yaml', 'rank:\n  weights:\n    ', ['flavour', 'productivity']],
  ])('%s: %s', async (path, text, words) => {
    expect(await offered(path, `${editorLine(path)}\n${text}`)).toEqual(
      expect.arrayContaining([...words]),
    );
  });

  test('keys of an entry too', async () => {
    const text = `${editorLine('seasons/2026.yaml')}\npicks:\n  - on: 2026-07-02\n    `;
    const found = await offered('seasons/2026.yaml', text);
    expect(found).toEqual(expect.arrayContaining(['tree', 'weights', 'sample', 'split']));
  });
});

test('a key is explained where the pointer rests on it', async () => {
  const { path } = await opening(
    join(EXAMPLE, 'seasons/2026.yaml'),
    season('picks:\n  - sample: best'),
  );
  expect(await server.told(path, 3, 6)).toContain('How the fruit in weights were chosen');
});
