import { expect, test } from 'vitest';
import { EXIT } from '../src/cli/exit.ts';
import { run } from '../src/cli/run.ts';
import { memoryHost } from './support/memory-host.ts';
import { TASTING_FILES } from './support/tasting-files.ts';

test.each([
  ['lineup', '--on', '2026-08-20'],
  ['sheet'],
  ['card', 'slate-quay'],
  ['post'],
  ['figure', 'ranks'],
  ['yield'],
])('does not let %s take the place of a file of the ledger', async (...args) => {
  const { host, err, files } = memoryHost({ files: TASTING_FILES });
  expect(await run([...args, '--output', 'cultivars.yaml'], host)).toBe(EXIT.usage);
  expect(err()).toContain('is a file of the ledger itself');
  expect(files.get('/trial/cultivars.yaml')).toBe(TASTING_FILES['cultivars.yaml']);
});

test.each([
  ['yield', 'a.csv', /^[a-zA-Z,]+\n/],
  ['yield', 'a.html', /^<!doctype html>/],
  ['card slate-quay', 'a.json', /^\{/],
  ['card slate-quay', 'a.md', /^## Slate Quay/],
  ['card slate-quay', 'a.txt', /^Slate Quay/],
  ['post', 'a.html', /^<!doctype html>/],
  ['post', 'a.txt', /^\w/],
  ['post', 'a', /^---\n/],
])('the ending tells the form: %s --output %s', async (words, name, begins) => {
  const { host, files } = memoryHost({ files: TASTING_FILES });
  expect(await run([...words.split(' '), '--output', name], host)).toBe(EXIT.done);
  expect(String(files.get(`/trial/${name}`))).toMatch(begins);
});

test.each([
  ['yield', 'a.pdf'],
  ['sheet', 'a.csv'],
  ['figure ranks', 'a.jpg'],
  ['post', 'a.docx'],
])('no form is put into a file that says it is another: %s --output %s', async (words, name) => {
  const { host, err, files } = memoryHost({ files: TASTING_FILES });
  expect(await run([...words.split(' '), '--output', name], host)).toBe(EXIT.usage);
  expect(err()).toContain('name it with --format');
  expect(files.get(`/trial/${name}`)).toBeUndefined();
});
