import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { layFiles } from '../support/lay-files.ts';
import { SMALL_EXAMPLE } from '../support/small-example.ts';

const BIN = fileURLToPath(new URL('../../bin/pomary.js', import.meta.url));
/** Packages that are dear to load, by words of theirs. */
const PACKAGES = {
  yaml: 'A block sequence may not be used as an implicit map key',
  vega: 'Unrecognized signal name',
  resvg: 'Already initialized. The `initWasm()` function',
};
/** Names the files that a run has loaded, on a pipe of its own. */
const TELL = `process.on('exit', () => require('node:fs').writeSync(3, Object.keys(require.cache).join('\\n')));`;

let folder = '';
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'pomary-parts-'));
  writeFileSync(join(folder, 'tell.cjs'), TELL);
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** Which of the packages a command loads over some files. */
function loaded(files: Readonly<Record<string, string>>, ...argv: readonly string[]): string[] {
  const root = mkdtempSync(join(folder, 'ledger-'));
  layFiles(root, files);
  const { output } = spawnSync(
    process.execPath,
    ['-r', join(folder, 'tell.cjs'), BIN, '--ledger', root, ...argv],
    { stdio: ['ignore', 'pipe', 'pipe', 'pipe'], encoding: 'utf8' },
  );
  const paths = String(output[3]).split('\n');
  expect(paths).toContain(BIN);
  const text = paths.map((path) => readFileSync(path, 'utf8')).join('\n');
  return Object.entries(PACKAGES).flatMap(([name, words]) => (text.includes(words) ? [name] : []));
}

test.each([['check'], ['yield'], ['rank']])(
  '%s of a sound ledger loads no second reader',
  (name) => {
    expect(loaded(SMALL_EXAMPLE, name)).toEqual([]);
  },
);

test('what is wrong loads what tells it, and a picture what draws it', () => {
  expect(loaded(SMALL_EXAMPLE, 'figure', 'ranks')).toEqual(['vega']);
  const dots = join(folder, 'ranks.png');
  expect(loaded(SMALL_EXAMPLE, 'figure', 'ranks', '--output', dots)).toEqual(['vega', 'resvg']);
  const season = 'season: 2025\n';
  const wrong = { ...SMALL_EXAMPLE, 'seasons/2025.yaml': `${season}picks: 3\n` };
  expect(loaded(wrong, 'check')).toEqual([]);
  const broken = { ...SMALL_EXAMPLE, 'seasons/2025.yaml': `${season}picks: [\n` };
  expect(loaded(broken, 'check')).toEqual(['yaml']);
});
