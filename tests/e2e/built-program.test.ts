import { spawn, spawnSync } from 'node:child_process';
import {
  chmodSync,
  closeSync,
  cpSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  openSync,
  readFileSync,
  rmSync,
  statSync,
  symlinkSync,
  truncateSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { layFiles } from '../support/lay-files.ts';
import { onReadOnlyDisk } from '../support/namespaces.ts';
import { boundByPermissions } from '../support/other-account.ts';
import { runCommand } from '../support/run-command.ts';
import { SMALL_EXAMPLE } from '../support/small-example.ts';

const BIN = fileURLToPath(new URL('../../bin/pomary.js', import.meta.url));
const PACKAGE = fileURLToPath(new URL('../../package.json', import.meta.url));
const DIST = fileURLToPath(new URL('../../dist/main.js', import.meta.url));
const PATH = process.env['PATH'] ?? '';

let folder = '';

beforeAll(() => {
  if (!existsSync(DIST)) throw new Error('build first: npm run build');
  folder = mkdtempSync(join(tmpdir(), 'pomary-'));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

let made = 0;
/** A folder of its own with the small example in it, some files put in and some taken away. */
function ledger(files: Readonly<Record<string, string | Uint8Array | null>> = {}): string {
  const root = join(folder, `${made++} ledger é`);
  const kept = Object.entries({ ...SMALL_EXAMPLE, ...files }).flatMap(([path, content]) =>
    content === null ? [] : [[path, content] as const],
  );
  layFiles(root, Object.fromEntries(kept));
  return root;
}

/** Runs the built program as a person would, with nothing but PATH in the environment. */
function pomary(cwd: string, argv: readonly string[], env: Readonly<Record<string, string>> = {}) {
  return runCommand([process.execPath, BIN, ...argv], { cwd, env });
}

/** A line of shell with `pomary` in it, for pipes and redirections. */
function shell(cwd: string, line: string) {
  // A function, since the program may be kept in a folder with a space in its name.
  return runCommand(['sh', '-c', `pomary() { "$NODE" "$BIN" "$@"; }\n${line}`], {
    cwd,
    env: { NODE: process.execPath, BIN },
  });
}

describe('the built program', () => {
  it('reads a ledger from its folder, from inside it and by name, without colour into a pipe', () => {
    const root = ledger();
    const here = pomary(root, ['yield']);
    expect(here).toMatchObject({ status: 0, err: '' });
    expect(here.out).toMatch(/^Yield by tree, 2025 to 2026\n/);
    expect(here.out).not.toContain('\u001b');
    expect(pomary(join(root, 'seasons'), ['yield'])).toEqual(here);
    expect(pomary('/', ['--ledger', root, 'yield'])).toEqual(here);
    expect(pomary(folder, ['--ledger', root.slice(folder.length + 1), 'yield'])).toEqual(here);
  });

  it('gives the same figures in every time zone, locale and with every clock', () => {
    const root = ledger();
    for (const command of ['check', 'yield', 'ripening', 'soundness']) {
      const argv = [command, '--format', 'json'];
      const plain = pomary(root, argv);
      for (const [TZ, LC_ALL] of [
        ['Pacific/Kiritimati', 'C'],
        ['America/Los_Angeles', 'tr_TR.UTF-8'],
        ['Nowhere/Land', 'de_DE'],
      ] as const) {
        expect(pomary(root, argv, { TZ, LC_ALL, LANG: LC_ALL })).toEqual(plain);
      }
    }
  });

  it('ends quietly where the reader of its output leaves', () => {
    const root = ledger();
    const { status, out, err } = shell(root, 'pomary yield --format json | head -1');
    expect({ status, out, err }).toEqual({ status: 0, out: '{\n', err: '' });
    const entries = Array.from(
      { length: 3_000 },
      () => '  - { on: 2026-07-02, tree: Q, crop: early, fruit: 1 }',
    );
    const wrong = ledger({ 'seasons/2026.yaml': `season: 2026\ncounts:\n${entries.join('\n')}\n` });
    expect(shell(wrong, 'pomary check --format json | head -1')).toEqual({
      status: 0,
      out: '{\n',
      err: '',
    });
    expect(shell(wrong, 'pomary check --most 3000 2>&1 | head -1').err).toBe('');
    // The pipe is closed before the version is written.
    expect(shell(root, '(sleep 0.3; pomary --version; echo $? >&2) | true').err).toBe('0\n');
  });

  it('says so where its output cannot be written', ({ skip }) => {
    if (!existsSync('/dev/full')) skip('there is no /dev/full here');
    const root = ledger();
    for (const line of [
      'pomary yield > /dev/full',
      'pomary --version > /dev/full',
      'pomary check > /dev/full',
    ]) {
      expect(shell(root, line)).toEqual({
        status: 3,
        out: '',
        err: 'pomary: cannot write to standard output: the disk is full\n',
      });
    }
    const entered = shell(root, 'pomary pick G3 main --on 2026-09-20 --weights 31 > /dev/full');
    expect(entered).toMatchObject({
      status: 3,
      err: 'pomary: cannot write to standard output: the disk is full\nThe entries are written all the same: do not enter them again.\n',
    });
    expect(shell(root, 'pomary yield --bad 2> /dev/full')).toMatchObject({ status: 2, out: '' });
    expect(shell(root, 'pomary yield --output /dev/full')).toMatchObject({
      status: 3,
      err: 'pomary: cannot use /dev/full: the disk is full\n',
    });
  });

  it('writes to a file, a device or a pipe, and to nothing else', () => {
    const root = ledger();
    const { out } = pomary(root, ['yield']);
    expect(pomary(root, ['yield', '--output', 'table of é.txt'])).toEqual({
      status: 0,
      out: '',
      err: '',
    });
    expect(readFileSync(join(root, 'table of é.txt'), 'utf8')).toBe(out);
    expect(shell(root, 'pomary yield --output /dev/stdout | cat').out).toBe(out);
    expect(pomary(root, ['yield', '--output', '/dev/null'])).toEqual({
      status: 0,
      out: '',
      err: '',
    });
    expect(statSync('/dev/null').isCharacterDevice()).toBe(true);
    expect(pomary(root, ['yield', '--output', 'no/such/folder.txt'])).toMatchObject({
      status: 3,
      out: '',
    });
    expect(pomary(root, ['yield', '--output', 'seasons'])).toMatchObject({ status: 3, out: '' });
    expect(pomary(root, ['yield', '--output', 'trees.yaml'])).toMatchObject({ status: 2, out: '' });
    expect(readFileSync(join(root, 'trees.yaml'), 'utf8')).toBe(SMALL_EXAMPLE['trees.yaml']);
  });

  it('says so where the disk can only be read', ({ skip }) => {
    const readOnly = onReadOnlyDisk();
    if (readOnly === undefined) return skip('a disk that can only be read cannot be made here');
    const root = ledger();
    for (const [argv, path] of [
      [['schema', '--write'], 'schema'],
      [['export', '--output', 'deep/tables'], 'deep/tables'],
      [['yield', '--output', 'yield.txt'], 'yield.txt'],
    ] as const) {
      expect(runCommand([...readOnly, process.execPath, BIN, ...argv], { cwd: root })).toEqual({
        status: 3,
        out: '',
        err: `pomary: cannot use ${join(root, path)}: the disk can only be read\n`,
      });
    }
  });

  it('needs neither an open standard input nor an open standard output', () => {
    const root = ledger();
    expect(shell(root, 'pomary yield < /').status).toBe(0);
    expect(shell(root, 'pomary yield <&-').status).toBe(0);
    expect(shell(root, 'pomary yield >&-')).toEqual({ status: 0, out: '', err: '' });
    expect(shell(root, 'pomary yield --bad 2>&-')).toEqual({ status: 2, out: '', err: '' });
  });

  it('says so where the folder it stands in is gone', () => {
    const line = `mkdir "${folder}/gone" && cd "${folder}/gone" && rmdir "${folder}/gone" && pomary check`;
    expect(shell(folder, line)).toEqual({
      status: 3,
      out: '',
      err: 'pomary: cannot use the current folder: it does not exist\n',
    });
  });
});

describe('what may stand where a file should be', () => {
  const told = (root: string, reason: string, path: string) => {
    for (const command of ['check', 'yield']) {
      expect(pomary(root, [command])).toEqual({
        status: 3,
        out: '',
        err: `pomary: cannot use ${join(root, path)}: ${reason}\n`,
      });
    }
  };

  it.each(['ledger.yaml', 'trees.yaml', 'seasons/2026.yaml', 'weather/2026.csv'])('%s', (path) => {
    const without = () =>
      ledger({
        [path]: null,
        ...(path === 'weather/2026.csv' ? { 'weather/2025.csv': 'date\n' } : {}),
      });
    const directory = without();
    mkdirSync(join(directory, path));
    told(directory, 'it is a folder, not a file', path);
    const link = without();
    symlinkSync('nowhere.yaml', join(link, path));
    told(link, 'it does not exist', path);
    const circle = without();
    symlinkSync(join(circle, path), join(circle, path));
    told(circle, 'its links go round in a circle', path);
    const pipe = without();
    expect(spawnSync('mkfifo', [join(pipe, path)]).status).toBe(0);
    told(pipe, 'it is not an ordinary file', path);
    const device = without();
    symlinkSync('/dev/zero', join(device, path));
    told(device, 'it is not an ordinary file', path);
  });

  it('a folder of seasons that is a file', () => {
    const root = ledger({ 'seasons/2025.yaml': null, 'seasons/2026.yaml': null });
    writeFileSync(join(root, 'seasons'), '');
    told(root, 'a part of its path is a file, not a folder', 'seasons');
  });

  it('a link to a file elsewhere is read', () => {
    const root = ledger({ 'trees.yaml': null });
    writeFileSync(join(folder, 'elsewhere.yaml'), SMALL_EXAMPLE['trees.yaml'] ?? '');
    symlinkSync(join(folder, 'elsewhere.yaml'), join(root, 'trees.yaml'));
    expect(pomary(root, ['yield'])).toMatchObject({ status: 0, err: '' });
  });

  it('a file that is far too large, which is not read', () => {
    for (const path of ['seasons/2026.yaml', 'weather/2026.csv']) {
      const root = ledger();
      closeSync(openSync(join(root, path), 'a'));
      truncateSync(join(root, path), 50_000_000);
      const { status, out } = pomary(root, ['check']);
      expect(status).toBe(1);
      expect(out).toContain(`${path}:1:1 error file-too-large`);
      expect(out).toContain('the file is 50 MB, more than the 5 MB that a ledger file may have');
    }
  });

  it('a file as large as may be and full of slips, in time and memory that a computer has', () => {
    const root = ledger({ 'seasons/2026.yaml': '- \n'.repeat(1_600_000) });
    expect(pomary(root, ['check'])).toMatchObject({ status: 1, err: '' });
    const dashes = ledger({
      'trees.yaml': '- '.repeat(2_000_000),
      'cultivars.yaml': `${'k: [\n'.repeat(600_000)}`,
    });
    expect(pomary(dashes, ['check'])).toMatchObject({ status: 1, err: '' });
  });

  it('a file or folder that the account may not open', ({ skip }) => {
    const bound = boundByPermissions();
    if (bound === undefined) {
      return skip('running as root, for whom permissions do not hold, and no other account');
    }
    const run = (argv: readonly string[]) => {
      const ran = runCommand([...bound, process.execPath, BIN, ...argv], { cwd: '/' });
      if (ran.err.includes('Cannot find module'))
        skip('the other account may not read the program');
      return ran;
    };
    chmodSync(folder, 0o755);
    const root = ledger();
    expect(run(['--ledger', root, 'yield']).status).toBe(0);
    for (const path of ['trees.yaml', 'seasons']) {
      chmodSync(join(root, path), 0o000);
      expect(run(['--ledger', root, 'yield'])).toEqual({
        status: 3,
        out: '',
        err: `pomary: cannot use ${join(root, path)}: this account may not open it\n`,
      });
      chmodSync(join(root, path), 0o755);
    }
    chmodSync(root, 0o000);
    expect(run(['--ledger', root, 'yield'])).toMatchObject({ status: 3, out: '' });
    chmodSync(root, 0o555);
    const written = run(['--ledger', root, 'yield', '--output', join(root, 'table.txt')]);
    expect(written).toMatchObject({ status: 3, out: '' });
    expect(written.err).toContain('this account may not');
    chmodSync(root, 0o755);
  });

  it('an empty folder', () => {
    const root = join(folder, 'empty');
    mkdirSync(root);
    const { status, out, err } = pomary(root, ['check']);
    expect([status, out]).toEqual([2, '']);
    expect(err).toContain(`there is no ledger.yaml in ${root} or any folder above it`);
    expect(pomary('/', ['--ledger', root, 'check'])).toEqual({
      status: 2,
      out: '',
      err: `pomary: ${root} holds no ledger.yaml, so it is not a ledger\n`,
    });
  });
});

describe('the launcher', () => {
  it('tells the version that package.json has, and nothing but the version', () => {
    const { version } = JSON.parse(readFileSync(PACKAGE, 'utf8')) as { version: string };
    for (const asked of ['--version', '-V']) {
      expect(pomary('/', [asked])).toEqual({ status: 0, out: `${version}\n`, err: '' });
      // Of a longer command line the whole program makes what it makes of any other.
      expect(pomary('/', ['--no-color', asked])).toEqual(pomary('/', [asked]));
      expect(pomary('/', [asked, 'yield'])).toEqual(pomary('/', [asked]));
    }
  });

  it('says what to do where the program has not been built', () => {
    const bare = join(folder, 'bare');
    mkdirSync(bare);
    cpSync(PACKAGE, join(bare, 'package.json'));
    cpSync(dirname(BIN), join(bare, 'bin'), { recursive: true });
    const ran = spawnSync(process.execPath, [join(bare, 'bin', 'pomary.js')], { encoding: 'utf8' });
    expect([ran.status, ran.stdout, ran.stderr]).toEqual([
      3,
      '',
      'pomary has not been built yet: run npm run build first.\n',
    ]);
  });

  it('does not wait for a pipe that nobody writes to', async () => {
    const root = ledger();
    const child = spawn(process.execPath, [BIN, 'yield'], {
      cwd: root,
      env: { PATH },
      stdio: ['pipe', 'ignore', 'ignore'],
    });
    const status = await new Promise((resolve) => {
      child.on('exit', resolve);
    });
    expect(status).toBe(0);
  });
});
