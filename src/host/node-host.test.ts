import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { nodeHost } from './node-host.ts';

let root = '';
beforeAll(() => {
  root = mkdtempSync(join(tmpdir(), 'pomary-host-'));
});
afterAll(() => rmSync(root, { recursive: true, force: true }));

test('files that cannot all be written leave nothing new behind, no folder either', () => {
  const { files } = nodeHost();
  const old = join(root, 'old.txt');
  files.write(old, 'old');
  const wanted = ['new/a/one.txt', 'new/two.txt'].map((path) => ({
    path: join(root, path),
    text: path,
  }));
  // A folder cannot be made where a file is.
  const broken = [...wanted, { path: join(old, 'three.txt'), text: 'three' }];
  expect(() => files.writeAll(broken)).toThrow(expect.objectContaining({ path: old }));
  expect(readdirSync(root)).toEqual(['old.txt']);
  files.writeAll(wanted);
  expect(readFileSync(join(root, 'new', 'a', 'one.txt'), 'utf8')).toBe('new/a/one.txt');
  expect(() => files.writeAll([{ path: join(root, 'new'), text: '' }])).toThrow();
  expect(readdirSync(root).sort()).toEqual(['new', 'old.txt']);
});
