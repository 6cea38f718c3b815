import { spawn } from 'node:child_process';
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { layFiles } from '../support/lay-files.ts';
import { linesAdded } from '../support/lines-added.ts';
import { runCommand } from '../support/run-command.ts';
import { SMALL_EXAMPLE } from '../support/small-example.ts';

const BIN = fileURLToPath(new URL('../../bin/pomary.js', import.meta.url));
const DIST = fileURLToPath(new URL('../../dist/main.js', import.meta.url));
const PATH = process.env['PATH'] ?? '';
const before = SMALL_EXAMPLE['seasons/2026.yaml'] ?? '';

let folder = '';
beforeAll(() => {
  if (!existsSync(DIST)) throw new Error('build first: npm run build');
  folder = mkdtempSync(join(tmpdir(), 'pomary-record-'));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

let made = 0;
function ledger(): string {
  const root = join(folder, `ledger ${made++}`);
  layFiles(root, SMALL_EXAMPLE);
  return root;
}

function season(root: string): string {
  return readFileSync(join(root, 'seasons', '2026.yaml'), 'utf8');
}

/** Lines of the season file that it did not have, in its order. */
function added(root: string): readonly string[] {
  return linesAdded(before, season(root)).map((line) => line.trim());
}

function pomary(cwd: string, argv: readonly string[], input: string) {
  return runCommand([process.execPath, BIN, ...argv], { cwd, input });
}

test('lines from a pipe: written whole or not at all, without a prompt, with nothing left behind', () => {
  const root = ledger();
  const wrong = pomary(root, ['enter'], 'on 1 Aug 2026\npick G3 early 50\npick G9 early 40\n');
  expect(wrong).toMatchObject({ status: 1, out: '' });
  expect(wrong.err).toContain('standard input:3:6 error line-not-understood');
  expect(season(root)).toBe(before);
  const good = pomary(root, ['enter', '-'], 'on 1 Aug 2026\npick G3 early 50\n47.5\n');
  expect(good).toMatchObject({ status: 0, err: '' });
  expect(good.out).not.toContain('>');
  expect(added(root)).toEqual(['- { on: 2026-08-01, tree: G3, crop: early, weights: [50, 47.5] }']);
  expect(readdirSync(join(root, 'seasons')).sort()).toEqual(['2025.yaml', '2026.yaml']);
  // What was replaced, which git passes over.
  expect(readdirSync(root).filter((name) => name.startsWith('.'))).toEqual(['.pomary']);
  expect(readFileSync(join(root, '.pomary', '.gitignore'), 'utf8')).toMatch(/^\*$/m);
});

test('several processes at once leave every entry', async () => {
  const root = ledger();
  const COUNT = 8;
  const runs = Array.from({ length: COUNT }, (_, index) => {
    const weight = String(40 + index);
    const argv = ['pick', 'G3', 'early', '--on', '2026-08-01', '--weights', weight];
    const child = spawn(process.execPath, [BIN, ...argv], { cwd: root, env: { PATH } });
    return new Promise<number | null>((resolve) => {
      child.on('close', resolve);
    });
  });
  expect(await Promise.all(runs)).toEqual(Array.from({ length: COUNT }, () => 0));
  const wanted = Array.from(
    { length: COUNT },
    (_, index) => `- { on: 2026-08-01, tree: G3, crop: early, weights: [${40 + index}] }`,
  );
  expect([...added(root)].sort()).toEqual(wanted);
  expect(readdirSync(join(root, 'seasons')).sort()).toEqual(['2025.yaml', '2026.yaml']);
}, 90_000);
