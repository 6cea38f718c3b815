import { describe, expect, it, vi } from 'vitest';
import type { Host } from '../src/cli/host.ts';
import { run } from '../src/cli/run.ts';
import { memoryHost } from './support/memory-host.ts';
import { pomary } from './support/pomary.ts';
import { SMALL_EXAMPLE } from './support/small-example.ts';
import { QUICK_REPORTS, REPORTS } from './support/trouble-with.ts';

vi.mock('../src/cli/open-ledger.ts', () => import('./support/ledger-once.ts'));

const files = SMALL_EXAMPLE;
const ASCII = /^[\n\u0020-\u007e]*$/;
// biome-ignore lint/suspicious/noControlCharactersInRegex: colour is what is looked for
const COLOUR = /\u001b\[/;

describe('the exit status', () => {
  it.each<[readonly string[], number]>([
    [[], 0],
    [['--help'], 0],
    [['help'], 0],
    [['help', 'yield'], 0],
    [['yield', '--help'], 0],
    [['--version'], 0],
    [['check'], 0],
    [['yield'], 0],
  ])('of %j is %i, with nothing to complain of', async (argv, status) => {
    const outcome = await pomary(argv, { files });
    expect(outcome.status).toBe(status);
    expect(outcome.out).not.toBe('');
    expect(outcome.err).toBe('');
  });

  it.each<[readonly string[], string]>([
    [['yeild'], 'Did you mean yield?'],
    [['figs'], "unknown command 'figs'"],
    [['help', 'figs'], 'Usage: pomary'],
    [['yield', '--seson', '2026'], 'Did you mean --season?'],
    [['yield', 'G3'], 'too many words: yield takes none'],
    [['yield', '--season'], '--season needs something after it'],
    [['yield', '--season', '26'], 'write a year, as 2026, or a span, as 2024..2026.'],
    [['yield', '--season', '2026..2024'], 'write a year'],
    [['yield', '--season', '1999'], 'the ledger has seasons 2025, 2026'],
    [['yield', '--crop', 'brebba'], 'breba'],
    [['yield', '--site', 'glas'], 'did you mean glass?'],
    [['yield', '--site', 'shed'], 'the sites are glass'],
    [['yield', '--tree', 'G33'], 'did you mean G3?'],
    [['yield', '--cultivar', 'Amber Lanten'], 'did you mean Amber Lantern?'],
    [['yield', '--by', 'row'], 'rows are'],
    [['yield', '--sort', 'lod'], 'no column "lod"'],
    [['yield', '--top', '0'], 'write a whole number from 1.'],
    [['yield', '--top', '1e3'], 'write a whole number from 1.'],
    [['yield', '--confidence', '100'], 'write a percentage from 50 to 99.9'],
    [['yield', '--confidence', 'NaN'], 'write a percentage'],
    [['yield', '--format', 'pdf'], 'text, markdown, html, csv, json'],
    [['yield', '--output', '-x'], 'a file of that name is written as ./-x.'],
    [['export', '--output', '--'], 'a file of that name is written as ./--.'],
    [['yield', '--output', ''], '--output needs the name of a file'],
    [['yield', '--output', 'trees.yaml'], 'a file of the ledger itself'],
    [['yield', '--output', '/trial/seasons/../ledger.yaml'], 'a file of the ledger itself'],
    [['check', '--most', '-1'], 'write a whole number from 1.'],
    [['check', '--format', 'csv'], 'text, json'],
    [['--ledger', '', 'yield'], '--ledger needs the name of a folder'],
    [['--ledger', 'seasons', 'yield'], 'seasons holds no ledger.yaml'],
    [['soundness', '--within', '0'], 'write a whole number from 1.'],
  ])(
    'of %j is 2, with what to type on standard error and nothing on standard output',
    async (argv, hint) => {
      const { status, out, err } = await pomary(argv, { files });
      expect([status, out]).toEqual([2, '']);
      expect(err).toContain(hint);
    },
  );

  it('is 2 where there is no ledger, with where it was looked for', async () => {
    for (const command of ['check', 'yield']) {
      const { status, out, err } = await pomary([command], { files: { 'notes.txt': '' } });
      expect([status, out]).toEqual([2, '']);
      expect(err).toBe(
        "pomary: there is no ledger.yaml in /trial or any folder above it; go to the ledger's folder or name it with --ledger DIR\n",
      );
    }
  });

  it('is 3 where a folder does not exist or a file cannot be written', async () => {
    const missing = await pomary(['--ledger', '/nowhere', 'check'], { files });
    expect(missing).toEqual({
      status: 3,
      out: '',
      err: 'pomary: cannot use /nowhere: it does not exist\n',
    });
    const file = await pomary(['--ledger', 'ledger.yaml', 'check'], { files });
    expect(file).toEqual({
      status: 3,
      out: '',
      err: 'pomary: cannot use /trial/ledger.yaml: it is not a folder\n',
    });
  });

  it('is 1 for errors alone, and with --strict for warnings too', async () => {
    const hints = await pomary(['check', '--strict'], { files });
    expect(hints.status).toBe(hints.out.includes(' warning ') ? 1 : 0);
    const warned = { ...files, 'seasons/2027.yml': '' };
    expect((await pomary(['check'], { files: warned })).status).toBe(0);
    expect((await pomary(['check', '--strict'], { files: warned })).status).toBe(1);
    const wrong = { ...files, 'trees.yaml': 'G3: {}\n' };
    for (const command of ['check', ...REPORTS]) {
      expect((await pomary([command], { files: wrong })).status, command).toBe(1);
    }
  });
});

describe('a fault of pomary itself', () => {
  const faulty = (env: Readonly<Record<string, string>>): { host: Host; err: () => string } => {
    const { host, err } = memoryHost({ files, env });
    const write = () => {
      throw new TypeError('the \u001b[31mladder is too short');
    };
    return { host: { ...host, stdout: { ...host.stdout, write } }, err };
  };

  it('gives 70 and one plain line that asks for a report', async () => {
    for (const argv of [['yield'], ['check'], ['--help'], []]) {
      const { host, err } = faulty({});
      expect(await run(argv, host)).toBe(70);
      expect(err()).toBe(
        'pomary: this is a fault of pomary, not of your ledger (the \\u{1b}[31mladder is too short); please report it\n',
      );
    }
  });

  it('shows its trace only for POMARY_DEBUG=1', async () => {
    const { host, err } = faulty({ POMARY_DEBUG: '1' });
    expect(await run(['yield'], host)).toBe(70);
    expect(err()).toMatch(/^pomary: .*please report it\nTypeError: [\s\S]*\n\s+at /);
    const other = faulty({ POMARY_DEBUG: '0' });
    await run(['yield'], other.host);
    expect(other.err()).not.toMatch(/\n\s+at /);
  });
});

describe('the ledger', () => {
  it('is the one named, or the nearest upward, whatever letters its path has', async () => {
    const elsewhere = Object.fromEntries(
      Object.entries(files).map(([path, text]) => [`Obst & Feigen/é 日本/${path}`, text]),
    );
    const here = await pomary(['yield'], { files });
    for (const [argv, cwd] of [
      [['yield'], '/trial/Obst & Feigen/é 日本'],
      [['yield'], '/trial/Obst & Feigen/é 日本/seasons'],
      [['--ledger', 'Obst & Feigen/é 日本', 'yield'], '/trial'],
      [['yield', '--ledger', '/trial/Obst & Feigen/é 日本/'], '/'],
      [['--ledger=./é 日本', 'yield'], '/trial/Obst & Feigen'],
      [['--ledger', '..', 'yield'], '/trial/Obst & Feigen/é 日本/weather'],
    ] as const) {
      expect(await pomary(argv, { files: elsewhere, cwd }), argv.join(' ')).toEqual(here);
    }
    const both = { ...files, 'inner/ledger.yaml': 'title: Inner\n' };
    expect((await pomary(['check'], { files: both, cwd: '/trial/inner' })).out).toContain(
      'file-missing',
    );
  });
});

describe('what a terminal can show', () => {
  it('decides on colour: only for a terminal, and by the usual words of the environment', async () => {
    const coloured = async (
      env: Readonly<Record<string, string>>,
      isTTY = true,
      argv = ['check'],
    ) => {
      const warned = { ...files, 'seasons/2027.yml': '' };
      return COLOUR.test((await pomary(argv, { files: warned, env, isTTY })).out);
    };
    expect(await coloured({})).toBe(true);
    expect(await coloured({}, false)).toBe(false);
    expect(await coloured({ NO_COLOR: '1' })).toBe(false);
    expect(await coloured({ NO_COLOR: '' })).toBe(true);
    expect(await coloured({ TERM: 'dumb' })).toBe(false);
    expect(await coloured({ FORCE_COLOR: '1' }, false)).toBe(true);
    expect(await coloured({ FORCE_COLOR: '0' })).toBe(false);
    expect(await coloured({ FORCE_COLOR: '1', NO_COLOR: '1' }, false)).toBe(false);
    expect(await coloured({ FORCE_COLOR: '3' }, true, ['--no-color', 'check'])).toBe(false);
    expect(await coloured({}, true, ['check', '--format', 'json'])).toBe(false);
    expect(await coloured({}, true, ['yield', '--format', 'markdown'])).toBe(false);
    expect(await coloured({}, true, ['yield'])).toBe(true);
  });

  it('keeps to ASCII where the locale does, in tables, marks and messages', async () => {
    const ascii = { LC_ALL: 'C' };
    for (const command of ['check', ...REPORTS]) {
      for (const columns of QUICK_REPORTS.includes(command) ? [30, 60, 200] : [60]) {
        const { out, status } = await pomary([command], {
          files,
          env: ascii,
          columns,
        });
        expect(status).toBe(0);
        expect(out, command).toMatch(ASCII);
      }
    }
    const long = {
      ...files,
      'trees.yaml': `G3: { cultivar: ${'x'.repeat(300)}, site: [], from: 5 }\n`,
    };
    for (const command of ['check', 'yield']) {
      const { out, err } = await pomary([command], { files: long, env: ascii });
      expect(out + err).toMatch(ASCII);
    }
    for (const argv of [['--help'], ['yield', '--help'], ['figs']]) {
      const { out, err } = await pomary(argv, { files, env: ascii });
      expect(out + err).toMatch(ASCII);
    }
  });

  it('never gets lines wider than it is, whatever width it claims', async () => {
    for (const COLUMNS of ['40', '80', '0', '-5', 'wide', '1e9', 'Infinity', '20']) {
      for (const argv of [['yield'], ['check'], ['--help'], ['rank']]) {
        const { status, out } = await pomary(argv, { files, env: { COLUMNS } });
        expect(status).toBe(0);
        if (Number(COLUMNS) === 80) {
          for (const line of out.split('\n')) expect(line.length).toBeLessThanOrEqual(80);
        }
      }
    }
  });
});

describe('a season file with a slip in its name', () => {
  it('is told of before every table that it is missing from', async () => {
    const { 'seasons/2026.yaml': season = '', ...others } = SMALL_EXAMPLE;
    const told = memoryHost({ files: { ...others, 'seasons/2026.yml': season } });
    expect(await run(['yield', '--format', 'csv'], told.host)).toBe(0);
    expect(told.err()).toContain('2026.yml is not read');
    expect(told.out()).not.toContain('2026');
  });

  it('and however many there are, only some are named', async () => {
    const stray = Object.fromEntries(
      Array.from({ length: 2_000 }, (_, at) => [`seasons/copy-${at}.yaml`, 'x']),
    );
    const told = memoryHost({ files: { ...SMALL_EXAMPLE, ...stray } });
    expect(await run(['yield', '--format', 'csv'], told.host)).toBe(0);
    expect(told.err().trimEnd().split('\n')).toHaveLength(21);
    expect(told.err()).toContain('and 1980 more; pomary check counts all of them');
  });
});
