import { spawnSync } from 'node:child_process';
import { chmodSync, existsSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { buildProgram } from '../src/cli/program.ts';
import { run } from '../src/cli/run.ts';
import { outlineOf } from '../src/cli/shell/outline.ts';
import { memoryHost } from './support/memory-host.ts';
import { altered, WALL_AND_GLASS } from './support/wall-and-glass.ts';

const ROOT = fileURLToPath(new URL('..', import.meta.url));
let folder = '';
let scripts: Readonly<Record<string, string>> = {};

/** A word of the ledger that a careless script would run. */
const HOSTILE = '$(touch gone)';

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'pomary-completion-'));
  for (const [path, text] of Object.entries(WALL_AND_GLASS)) {
    mkdirSync(join(folder, 'trial/seasons'), { recursive: true });
    writeFileSync(join(folder, 'trial', path), text);
  }
  mkdirSync(join(folder, 'hostile'));
  const hostile = altered(WALL_AND_GLASS, 'ledger.yaml', 'early: breba', `early: "${HOSTILE}"`);
  writeFileSync(join(folder, 'hostile/ledger.yaml'), hostile['ledger.yaml'] ?? '');
  // The scripts call pomary by its name.
  mkdirSync(join(folder, 'bin'));
  const called = join(folder, 'bin/pomary');
  writeFileSync(called, `#!/bin/sh\nexec '${process.execPath}' '${ROOT}/bin/pomary.js' "$@"\n`);
  chmodSync(called, 0o755);
  const printed = await Promise.all(
    ['bash', 'zsh', 'fish'].map((shell) => printedBy('completion', shell)),
  );
  const [bash = '', zsh = '', fish = ''] = printed;
  scripts = { bash, zsh, fish };
  for (const [shell, text] of Object.entries(scripts)) writeFileSync(join(folder, shell), text);
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

async function printedBy(...argv: readonly string[]): Promise<string> {
  const world = memoryHost({ files: WALL_AND_GLASS });
  expect(await run(argv, world.host)).toBe(0);
  return world.out();
}

function isThere(program: string, ...args: readonly string[]): boolean {
  return spawnSync(program, args, { stdio: 'ignore' }).status === 0;
}

function shell(program: string, args: readonly string[], cwd = folder) {
  const env = { PATH: `${join(folder, 'bin')}:${process.env['PATH']}`, HOME: folder };
  return spawnSync(program, args, { cwd, env, encoding: 'utf8' });
}

/** What bash offers for a line whose words are given, the last of them being typed. */
function offeredByBash(words: readonly string[], cwd = join(folder, 'trial')): readonly string[] {
  const program = `source "$0"; COMP_WORDS=("$@"); COMP_CWORD=$(($# - 1)); _pomary; printf '%s\\n' "\${COMPREPLY[@]}"`;
  const { stdout, stderr } = shell(
    'bash',
    ['--norc', '-uc', program, join(folder, 'bash'), ...words],
    cwd,
  );
  expect(stderr).toBe('');
  return stdout.split('\n').filter((line) => line !== '');
}

const hasBash = isThere('bash', '--version');

describe.skipIf(!hasBash)('bash', () => {
  test('offers every command of the help, and no hidden one', () => {
    const offered = offeredByBash(['pomary', '']);
    expect(offered).toContain('rank');
    expect(offered).toContain('card');
    expect(offered).not.toContain('complete');
    expect(offeredByBash(['pomary', 'ver'])).toEqual(['verdict']);
  });

  test.each([
    [
      ['rank', '--se'],
      ['--season', '--seed'],
    ],
    [['--led'], ['--ledger']],
    [['rank', '--format', 'm'], ['markdown']],
    [['rank', '--format', '=', 'j'], ['json']],
    [
      ['card', '--format', ''],
      ['text', 'markdown', 'html', 'json'],
    ],
    [['card', 'a'], ['amber-lantern']],
    [['card', '--season', '2026', 's'], ['slate-quay']],
    [
      ['compare', 'amber-lantern', ''],
      ['amber-lantern', 'slate-quay'],
    ],
    [['rank', '--cultivar', 's'], ['slate-quay']],
    [
      ['rank', '--season', ''],
      ['2025', '2026'],
    ],
    [
      ['changes', '--against', ''],
      ['2025', '2026'],
    ],
    [
      ['rank', '--crop', ''],
      ['early', 'breba', 'main'],
    ],
    [
      ['rank', '--site', ''],
      ['glass', 'yard'],
    ],
    [
      ['completion', ''],
      ['bash', 'zsh', 'fish'],
    ],
    [
      ['lineup', '--tasters', ''],
      ['joss', 'mara'],
    ],
    [['lineup', '--candidates', 's'], ['slate-quay']],
    [['lineup', '--sheet', 'cult'], ['cultivars.yaml']],
    [['help', 'ri'], ['ripening']],
    [['changes', '--since', ''], []],
    [['--ledger', 'sea'], ['seasons']],
    [['rank', '--output', 'cult'], ['cultivars.yaml']],
  ])('pomary %j', (words, offered) => {
    expect(offeredByBash(['pomary', ...words])).toEqual(offered);
  });

  test('reads the ledger that is named before the command, and keeps quiet without one', () => {
    const words = ['rank', '--site', ''];
    expect(offeredByBash(['pomary', '--ledger', 'trial', ...words], folder)).toEqual([
      'glass',
      'yard',
    ]);
    expect(offeredByBash(['pomary', ...words], folder)).toEqual([]);
  });

  test('never runs what a ledger holds', () => {
    const there = join(folder, 'hostile');
    expect(offeredByBash(['pomary', 'rank', '--crop', '$'], there)).toEqual([
      '\\$\\(touch\\ gone\\)',
    ]);
    expect(existsSync(join(there, 'gone'))).toBe(false);
  });
});

describe.skipIf(!isThere('zsh', '--version'))('zsh', () => {
  test('takes the script', () => {
    const { status, stderr } = shell('zsh', ['-fn', join(folder, 'zsh')]);
    expect(stderr).toBe('');
    expect(status).toBe(0);
  });
});

describe.skipIf(!isThere('fish', '--version'))('fish', () => {
  test.each([
    ['pomary ver', ['verdict']],
    ['pomary card am', ['amber-lantern']],
    ['pomary rank --format m', ['markdown']],
    ['pomary rank --season ', ['2025', '2026']],
  ])('%s', (line, offered) => {
    const program = `source ${join(folder, 'fish')}; complete -C '${line}'`;
    const { stdout } = shell('fish', ['--no-config', '-c', program], join(folder, 'trial'));
    const words = stdout.split('\n').map((one) => one.split('\t')[0]);
    expect(words.filter((word) => word !== '')).toEqual(offered);
  });
});

test('scripts know every command, option and choice that the help shows', () => {
  const { commands } = outlineOf(buildProgram(memoryHost({ files: {} }).host));
  expect(commands.length).toBeGreaterThan(12);
  for (const { name, options } of commands) {
    for (const script of Object.values(scripts)) expect(script).toContain(name);
    for (const { long, choices } of options) {
      expect(scripts['bash']).toContain(long);
      expect(scripts['zsh']).toContain(long);
      expect(scripts['fish']).toMatch(new RegExp(`from ${name}' .*-l ${long.slice(2)}( |$)`, 'm'));
      for (const choice of choices) {
        for (const script of Object.values(scripts)) expect(script).toContain(choice);
      }
    }
  }
});

describe('words of the ledger', () => {
  test.each([
    ['cultivar', 'amber-lantern\tAmber Lantern\nslate-quay\tSlate Quay\n'],
    ['tree', 'A1\tAmber Lantern\nA2\tAmber Lantern\nS1\tSlate Quay\nS2\tSlate Quay\n'],
    ['site', 'glass\tglasshouse\nyard\tsouth wall\n'],
    ['season', '2025\t\n2026\t\n'],
    ['crop', 'early\t\nbreba\t\nmain\t\n'],
    ['taster', 'joss\tJoss\nmara\tMara\n'],
    ['trait', 'sweetness\t\nflavour\t\n'],
  ])('%s', async (kind, lines) => {
    expect(await printedBy('complete', kind)).toBe(lines);
  });

  test('of a ledger with errors are those that can be read', async () => {
    const files = { ...WALL_AND_GLASS, 'seasons/2025.yaml': 'season: 2025\npicks: 7\n' };
    const world = memoryHost({ files });
    expect(await run(['complete', 'site'], world.host)).toBe(0);
    expect(world.out()).toContain('glass\t');
  });

  test('are of known kinds', async () => {
    const world = memoryHost({ files: WALL_AND_GLASS });
    expect(await run(['complete', 'moon'], world.host)).toBe(2);
    expect(world.err()).toContain('cultivar, tree, site');
  });
});

describe('the manual page', () => {
  test('tells every command with its options and examples', async () => {
    const page = await printedBy('manual');
    const { commands } = outlineOf(buildProgram(memoryHost({ files: {} }).host));
    for (const { name, options } of commands) {
      expect(page).toContain(`.SS "pomary ${name}"`);
      for (const { long } of options) expect(page).toContain(long.replaceAll('-', '\\-'));
    }
    expect(page).toContain('\\fB70\\fR');
    expect(page).not.toMatch(/undefined|\[object/);
  });

  test.skipIf(!isThere('groff', '--version'))('is set by groff without a complaint', async () => {
    const input = await printedBy('manual');
    const asked = ['-man', '-Tascii', '-ww', '-P-c', '-P-b', '-P-u', '-rLL=78n'];
    const { stdout, stderr } = spawnSync('groff', asked, { input, encoding: 'utf8' });
    expect(stderr).toBe('');
    expect(stdout).toContain('pomary rank --season 2024..2026 --crop main --top 10');
    expect(stdout).toMatch(/--season year\n +a +season or a span/);
    expect(stdout).toContain("the ledger's word");
  });
});

test('every command has an example in its help', () => {
  const { commands } = outlineOf(buildProgram(memoryHost({ files: {} }).host));
  const without = commands.filter(({ after }) => !/(^|\n)Examples?:\n {2}\S/.test(after));
  expect(without.map(({ name }) => name)).toEqual(['help']);
});
