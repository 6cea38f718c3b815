import { expect, test } from 'vitest';
import { run } from '../src/cli/run.ts';
import { type MemoryWorld, memoryHost } from './support/memory-host.ts';

async function merge(files: MemoryWorld['files'], ...argv: readonly string[]) {
  const { host, files: after, out, err } = memoryHost({ files, cwd: '/trial' });
  const status = await run(['merge', ...argv], host);
  return { status, out: out(), err: err(), read: (path: string) => after.get(`/trial/${path}`) };
}

const BASE = 'season: 2026\npicks:\n  - { on: 2026-07-24, tree: G3, crop: early, fruit: 3 }\n';
const more = (fruit: number) =>
  `${BASE}  - { on: 2026-07-25, tree: G3, crop: early, fruit: ${fruit} }\n`;

test('what goes together is written to the version of this branch, in silence', async () => {
  const files = { base: BASE, ours: more(1), theirs: more(2) };
  const { status, out, err, read } = await merge(
    files,
    'base',
    'ours',
    'theirs',
    'seasons/2026.yaml',
  );
  expect({ status, out, err }).toEqual({ status: 0, out: '', err: '' });
  expect(read('ours')).toBe(`${more(1)}  - { on: 2026-07-25, tree: G3, crop: early, fruit: 2 }\n`);
});

test('a contradiction ends with status 1 and its line, and check shows the place', async () => {
  const files = {
    base: BASE,
    ours: BASE.replace('fruit: 3', 'fruit: 4'),
    theirs: BASE.replace('fruit: 3', 'fruit: 5'),
  };
  const { status, err, read } = await merge(files, 'base', 'ours', 'theirs', 'seasons/2026.yaml');
  expect(status).toBe(1);
  expect(err).toMatch(/^pomary: seasons\/2026\.yaml: .* at line 3; /);
  const ledger = {
    'ledger.yaml': 'title: T\nfruit: fig\n',
    'seasons/2026.yaml': String(read('ours')),
  };
  const checked = memoryHost({ files: ledger });
  expect(await run(['check'], checked.host)).toBe(1);
  expect(checked.out() + checked.err()).toContain('seasons/2026.yaml:3:1 error merge-conflict');
});

test('an equal pick of both is told', async () => {
  const files = { base: BASE, ours: more(1), theirs: `${more(1)}drops:\n` };
  const { status, err } = await merge(files, 'base', 'ours', 'theirs');
  expect(status).toBe(0);
  expect(err).toBe(
    'pomary: ours: picks: { on: 2026-07-25, tree: G3, crop: early, fruit: 1 }: both sides added it; it may be two, so it stands there twice; if it was one, delete one of them\n',
  );
});

test('what is no UTF-8 stands between marks, byte for byte', async () => {
  const latin = Uint8Array.from([...Buffer.from('note: caf'), 0xe9, 10]);
  const { status, err, read } = await merge(
    { base: '', ours: latin, theirs: 'note: coffee\n' },
    ...['base', 'ours', 'theirs', 'ledger.yaml'],
  );
  expect(status).toBe(1);
  expect(err).toContain('ledger.yaml: not joined');
  expect(Buffer.from(read('ours') as Uint8Array).toString('latin1')).toBe(
    '<<<<<<< ours\nnote: caf\xe9\n=======\nnote: coffee\n>>>>>>> theirs\n',
  );
});

test('setting up marks the files once, below what is there, and tells the command', async () => {
  const ledger = { 'ledger.yaml': 'title: T\n', '.gitattributes': '*.jpg binary\r\n' };
  const first = await merge(ledger, '--setup');
  expect(first.out).toContain('git config --global merge.pomary.driver "pomary merge %O %A %B %P"');
  const written = String(first.read('.gitattributes'));
  expect(written).toMatch(/^\*\.jpg binary\r\n\r\n# .*\r\nledger\.yaml merge=pomary\r\n/);
  expect(written).toContain('seasons/*.yaml merge=pomary\r\n');
  const again = await merge({ ...ledger, '.gitattributes': written }, '--setup');
  expect(again.read('.gitattributes')).toBe(written);
  expect(again.out).toMatch(/^\.gitattributes names the files already\.\n/);
});

test('without its three files it tells what to do', async () => {
  for (const argv of [[], ['a'], ['a', 'b'], ['a', '--setup']]) {
    const { status, err } = await merge({ 'ledger.yaml': 'title: T\n' }, ...argv);
    expect(status).toBe(2);
    expect(err).toContain('--setup');
  }
  expect((await merge({ a: '', b: '' }, 'a', 'b', 'c')).status).toBe(3);
});

test('what a stranger wrote into a file steers no terminal', async () => {
  const note = '"\\e[31mred\\u202e"';
  const files = {
    base: BASE,
    ours: `${BASE}  - { on: 2026-07-25, tree: G3, crop: early, fruit: 1, note: ${note} }\n`,
    theirs: `${BASE}  - { on: 2026-07-25, tree: G3, crop: early, fruit: 1, note: ${note} }\ndrops:\n`,
  };
  const { status, err } = await merge(files, 'base', 'ours', 'theirs', 'a\u001b[2J.yaml');
  expect(status).toBe(0);
  expect(err).toContain('stands there once');
  // biome-ignore lint/suspicious/noControlCharactersInRegex: these are what must not be there
  expect(err).not.toMatch(/[\u0000-\u0009\u000b-\u001f\u202e]/);
});
