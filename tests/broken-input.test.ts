import { describe, expect, it } from 'vitest';
import { FileFault, type Host } from '../src/cli/host.ts';
import { run } from '../src/cli/run.ts';
import { type MemoryWorld, memoryHost } from './support/memory-host.ts';
import type { RawFiles } from './support/read-marked.ts';
import { SMALL_EXAMPLE } from './support/small-example.ts';
import { QUICK_REPORTS } from './support/trouble-with.ts';

interface Outcome {
  readonly status: number;
  readonly out: string;
  readonly err: string;
}

async function pomary(
  argv: readonly string[],
  files: RawFiles,
  world: Omit<MemoryWorld, 'files'> = {},
): Promise<Outcome> {
  const captured = memoryHost({ ...world, files });
  const status = await run(argv, captured.host);
  const outcome = { status, out: captured.out(), err: captured.err() };
  expect(outcome.out + outcome.err).not.toMatch(/^\s+at .*:\d+:\d+\)?$/m);
  expect(outcome.out + outcome.err).not.toMatch(/fault of pomary/);
  return outcome;
}

/** The small example with some files put in; null takes one away. */
function example(files: Readonly<Record<string, string | Uint8Array | null>>): RawFiles {
  const all = Object.entries({ ...SMALL_EXAMPLE, ...files });
  return Object.fromEntries(
    all.flatMap(([path, text]): [string, string | Uint8Array][] =>
      text === null ? [] : [[path, text]],
    ),
  );
}

/** Where and what `check` tells of the errors, and that it ends with status 1 for them. */
async function errorsOf(files: RawFiles): Promise<readonly string[]> {
  const { status, out, err } = await pomary(['check', '--format', 'json'], files);
  expect(err).toBe('');
  const { diagnostics } = JSON.parse(out) as {
    diagnostics: { file: string; line: number; column: number; rule: string; severity: string }[];
  };
  const errors = diagnostics.filter(({ severity }) => severity === 'error');
  expect(status).toBe(errors.length > 0 ? 1 : 0);
  return errors.map(({ file, line, column, rule }) => `${file}:${line}:${column} ${rule}`);
}

const SEASON = SMALL_EXAMPLE['seasons/2026.yaml'] ?? '';
const TREES = SMALL_EXAMPLE['trees.yaml'] ?? '';
const CULTIVARS = SMALL_EXAMPLE['cultivars.yaml'] ?? '';
const bytes = (text: string) => new TextEncoder().encode(text);

describe('bytes that are not what they should be', () => {
  it.each<[string, Readonly<Record<string, string | Uint8Array | null>>, readonly string[]]>([
    ['an empty file', { 'trees.yaml': '' }, ['trees.yaml:1:1 file-empty']],
    ['nothing but comments', { 'trees.yaml': '# G3\n\n# Y1\n' }, ['trees.yaml:1:1 file-empty']],
    [
      'a tab for blanks',
      { 'seasons/2026.yaml': SEASON.replace('  - {', '\t- {') },
      ['seasons/2026.yaml:6:1 yaml-tab'],
    ],
    [
      'carriage returns alone',
      { 'trees.yaml': TREES.replaceAll('\n', '\r') },
      ['trees.yaml:1:29 yaml-syntax'],
    ],
    [
      'Latin-1',
      { 'cultivars.yaml': Buffer.from(CULTIVARS.replace('Slate', 'Sl\u00e5te'), 'latin1') },
      ['cultivars.yaml:6:23 file-not-utf8'],
    ],
    [
      'Latin-1 behind a typed replacement character',
      {
        'cultivars.yaml': Buffer.concat([
          bytes('# \ufffd\n'),
          Buffer.from(CULTIVARS.replace('Slate', 'Sl\u00e5te'), 'latin1'),
        ]),
      },
      ['cultivars.yaml:7:23 file-not-utf8'],
    ],
    [
      'UTF-16 with its mark',
      { 'trees.yaml': Buffer.from(`\ufeff${TREES}`, 'utf16le') },
      ['trees.yaml:1:1 file-not-utf8'],
    ],
    [
      'UTF-16 without',
      { 'trees.yaml': Buffer.from(TREES, 'utf16le') },
      ['trees.yaml:1:2 yaml-syntax'],
    ],
    [
      'a byte cut off at the end',
      { 'trees.yaml': bytes(`${TREES}# \u00e9`).slice(0, -1) },
      ['trees.yaml:15:3 file-not-utf8'],
    ],
    [
      'zero bytes',
      { 'trees.yaml': TREES.replace('Harrow', 'Har\0row') },
      ['trees.yaml:5:24 yaml-syntax'],
    ],
    [
      'an escape sequence',
      { 'trees.yaml': TREES.replace('Harrow', '\u001b[31mHarrow') },
      ['trees.yaml:5:21 yaml-syntax'],
    ],
    [
      'anchors that would fill the memory',
      { 'trees.yaml': `a: &a [x, x]\nb: &b [*a, *a]\nc: [*b, *b]\n` },
      [
        'trees.yaml:1:4 yaml-anchor',
        'trees.yaml:2:4 yaml-anchor',
        'trees.yaml:2:8 yaml-anchor',
        'trees.yaml:2:12 yaml-anchor',
        'trees.yaml:3:5 yaml-anchor',
        'trees.yaml:3:9 yaml-anchor',
      ],
    ],
    [
      'brackets without end',
      { 'trees.yaml': `G3: ${'['.repeat(10_000)}` },
      ['trees.yaml:1:104 yaml-syntax'],
    ],
    [
      'brackets that all end',
      { 'trees.yaml': `G3: ${'['.repeat(10_000)}${']'.repeat(10_000)}\n` },
      ['trees.yaml:1:104 yaml-syntax'],
    ],
    [
      'a line of nothing but dashes',
      { 'trees.yaml': '- '.repeat(200_000) },
      ['trees.yaml:1:201 yaml-syntax'],
    ],
    [
      'a very long line',
      { 'trees.yaml': `# ${'x'.repeat(2_000_000)}\nG3: { cultivar: ${'y'.repeat(500_000)}` },
      ['trees.yaml:2:500017 yaml-syntax'],
    ],
    [
      'a key twice',
      { 'trees.yaml': `${TREES}G3: { cultivar: slate-quay, site: yard }\n` },
      ['trees.yaml:15:1 key-twice'],
    ],
    [
      'a list for a ledger',
      { 'ledger.yaml': '- title: Tidewrack\n' },
      ['ledger.yaml:1:1 value-wrong'],
    ],
    ['a word for a ledger', { 'ledger.yaml': 'figs' }, ['ledger.yaml:1:1 value-wrong']],
    [
      'a word that JavaScript treats apart',
      { 'trees.yaml': `${TREES}__proto__: { cultivar: slate-quay, site: yard }\n` },
      ['trees.yaml:15:1 key-wrong'],
    ],
    [
      'years that are none',
      {
        'seasons/2026.yaml': SEASON.replace('season: 2026', 'season: 0').replace(
          '2026-07-02',
          '0000-07-02',
        ),
      },
      [
        'seasons/2026.yaml:3:9 value-wrong',
        'seasons/2026.yaml:6:11 entry-before-tree',
        'seasons/2026.yaml:6:11 entry-outside-season',
      ],
    ],
    [
      'a date that does not exist',
      { 'seasons/2026.yaml': SEASON.replace('2026-07-02', '2026-02-30') },
      ['seasons/2026.yaml:6:11 date-unreal'],
    ],
    ['a trial without trees.yaml', { 'trees.yaml': null }, ['ledger.yaml:1:1 file-missing']],
    [
      'weather with unknown columns',
      { 'weather/2026.csv': 'day,low,high\n2026-07-22,12,21\n' },
      ['weather/2026.csv:1:1 weather-unreadable'],
    ],
    [
      'weather with a column twice',
      { 'weather/2026.csv': 'date,tmin,tmin\n2026-07-22,12,21\n' },
      ['weather/2026.csv:1:1 weather-unreadable'],
    ],
    [
      'weather with semicolons',
      { 'weather/2026.csv': 'date;tmin;tmax;rain\n2026-07-22;12;21;0\n' },
      ['weather/2026.csv:1:1 weather-unreadable'],
    ],
    [
      'weather with cells too many and too few',
      { 'weather/2026.csv': 'date,tmin,tmax\n2026-07-22,12,21,0\n\n2026-07-23,1\n' },
      ['weather/2026.csv:2:1 weather-unreadable', 'weather/2026.csv:4:1 weather-unreadable'],
    ],
    [
      'weather the wrong way round, past all bounds, twice and not in numbers',
      {
        'weather/2026.csv':
          'date,tmin,tmax\r\n2026-07-22,22,21\r\n2026-07-23,12,210\r\n2026-07-24,12,21\r\n2026-07-24,12,21\r\n2026-07-25,12,1e1\r\n2026-02-30,1,2\r\n',
      },
      [2, 3, 5, 6, 7].map((line) => `weather/2026.csv:${line}:1 weather-unreadable`),
    ],
    [
      'weather with a quote left open',
      { 'weather/2026.csv': 'date,tmin,tmax\n2026-07-22,12,"21\n2026-07-23,12,21\n' },
      ['weather/2026.csv:2:1 weather-unreadable'],
    ],
    [
      'weather without a line',
      { 'weather/2026.csv': '' },
      ['weather/2026.csv:1:1 weather-unreadable'],
    ],
    [
      'weather in Latin-1',
      { 'weather/2026.csv': Buffer.from('date,tmin\n2026-07-22,\u00b0\n', 'latin1') },
      ['weather/2026.csv:2:12 file-not-utf8'],
    ],
  ])('%s', async (_, files, errors) => {
    expect(await errorsOf(example(files))).toEqual(errors);
    const { status, out, err } = await pomary(['yield'], example(files));
    expect([status, out]).toEqual([1, '']);
    expect(err).toContain('Nothing is computed from a ledger with errors');
  });

  it.each<[string, (text: string) => string | Uint8Array]>([
    ['line ends CRLF', (text) => text.replaceAll('\n', '\r\n')],
    ['a byte order mark', (text) => `\ufeff${text}`],
    ['both', (text) => `\ufeff${text.replaceAll('\n', '\r\n')}`],
    ['no line end at the end', (text) => text.trimEnd()],
  ])('are the same ledger with %s', async (_, change) => {
    const changed = Object.fromEntries(
      Object.entries(SMALL_EXAMPLE).map(([path, text]) => [path, change(text)]),
    );
    for (const command of ['check', ...QUICK_REPORTS]) {
      const argv = [command, '--format', 'json'];
      expect(await pomary(argv, changed)).toEqual(await pomary(argv, SMALL_EXAMPLE));
    }
  });

  it('shows the place of a slip right in files with a byte order mark and CRLF', async () => {
    const text = `\ufeffG3: { cultivar: slate-quay, sight: yard }\r\nY1: { cultivar: x, site: yard }\r\n`;
    const files = { 'trees.yaml': text, 'seasons/2025.yaml': null, 'seasons/2026.yaml': null };
    expect(await errorsOf(example(files))).toEqual([
      'trees.yaml:1:1 key-missing',
      'trees.yaml:1:29 key-unknown',
      'trees.yaml:2:17 cultivar-unknown',
    ]);
  });
});

describe('a colon left out in braces', () => {
  it('is one error, and not a key too many and a key too few', async () => {
    const season = `season: 2026
counts:
  - { on: 2026-07-02, tree: G3, crop early, fruit: 21 }
  - { on 2026-07-03, tree: G3, crop: early, fruit: 20 }
`;
    expect(await errorsOf(example({ 'seasons/2026.yaml': season }))).toEqual([
      'seasons/2026.yaml:3:33 colon-missing',
      'seasons/2026.yaml:4:7 colon-missing',
    ]);
  });
});

describe('one slip in ledger.yaml', () => {
  const LEDGER = SMALL_EXAMPLE['ledger.yaml'] ?? '';
  it.each<[string, string, string, string]>([
    ['latitude', 'latitude: 52.1', 'latitude: 38 S', '4:66 value-wrong'],
    ['scale', 'scale: { low: 1, high: 10 }', 'scale: { low: 1, high: 1O }', '10:24 value-wrong'],
    ['scale', 'scale: { low: 1, high: 10 }', 'scale: { low: 100, high: 1 }', '10:8 scale-empty'],
    ['traits', '[sweetness, flavour, texture]', 'sweetness', '11:9 value-wrong'],
    ['crops', 'early: breba', 'eraly: breba', '9:10 key-unknown'],
  ])('in the %s brings no second complaint from any rule', async (key, text, slip, place) => {
    const onScale = (trial: string) =>
      trial.replaceAll(', 10]', ', 100]').replace('increase_above: 7.5', 'increase_above: 75');
    const trial = LEDGER.replace(text, slip);
    // Entries and marks that only another latitude or scale would make right.
    const files = {
      'ledger.yaml': key === 'scale' ? onScale(trial) : trial,
      'weather/2026.csv': null,
      'seasons/2026.yaml':
        key === 'latitude'
          ? 'season: 2026\ncounts:\n  - { on: 2025-11-02, tree: G3, crop: main, fruit: 1 }\n'
          : SEASON,
    };
    expect(await errorsOf(example(files))).toEqual([`ledger.yaml:${place}`]);
  });
});

describe('files with other names', () => {
  it.each([
    'seasons/2027.yml',
    'seasons/2026 (copy).yaml',
    'seasons/spring.yaml',
    'weather/2026-backup.csv',
  ])('%s is not read, and that is said', async (path) => {
    const { status, out } = await pomary(['check'], example({ [path]: 'nonsense: [' }));
    expect(status).toBe(0);
    expect(out).toContain(`${path}:1:1 warning file-ignored`);
  });

  it('may be left over from editors', async () => {
    const { out } = await pomary(
      ['check'],
      example({ 'seasons/.2026.yaml.x1.tmp': '[', 'seasons/2026.yaml~': '[' }),
    );
    expect(out).not.toContain('~');
    expect(out).not.toContain('tmp');
  });
});

describe('a great many errors', () => {
  it('are capped in text, given whole in JSON, and quick', async () => {
    const entries = Array.from(
      { length: 5_000 },
      (_, at) => `  - { on: 2026-07-02, tree: Q${at}, crop: early, fruit: 1 }`,
    );
    const files = example({
      'seasons/2026.yaml': `season: 2026\ncounts:\n${entries.join('\n')}\n`,
    });
    const start = performance.now();
    const text = await pomary(['check'], files);
    const json = await pomary(['check', '--format', 'json'], files);
    const report = await pomary(['yield'], files);
    expect(performance.now() - start).toBeLessThan(20_000);
    expect(text.out.match(/tree-unknown/g)).toHaveLength(100);
    expect(text.out).toMatch(/and 4\d{3} more: 5000 errors/);
    expect((JSON.parse(json.out) as { errors: number }).errors).toBe(5_000);
    expect(report.err.match(/tree-unknown/g)).toHaveLength(20);
    expect([text.status, json.status, report.status]).toEqual([1, 1, 1]);
  });

  it('do not take long in one file of broken syntax either', async () => {
    const keys = Array.from({ length: 60_000 }, (_, at) => `k${at}: 1`).join('\n');
    const start = performance.now();
    expect(await errorsOf(example({ 'trees.yaml': `${keys}\nG3: [\n` }))).toHaveLength(1);
    expect(performance.now() - start).toBeLessThan(20_000);
  });
});

describe('files that cannot be had', () => {
  const { files } = memoryHost({ files: SMALL_EXAMPLE }).host;

  it.each<[string, string, Partial<Host['files']>]>([
    [
      'may not be opened',
      'cannot use /trial/trees.yaml: this account may not open it',
      { read: refusing('/trial/trees.yaml', 'EACCES', 'this account may not open it', files.read) },
    ],
    [
      'is a folder',
      'cannot use /trial/trees.yaml: it is a folder, not a file',
      { kind: (path) => (path.endsWith('trees.yaml') ? 'folder' : 'file') },
    ],
    [
      'is a pipe',
      'cannot use /trial/trees.yaml: it is not an ordinary file',
      { kind: (path) => (path.endsWith('trees.yaml') ? 'other' : 'file') },
    ],
    [
      'is a link to nowhere',
      'cannot use /trial/trees.yaml: it does not exist',
      {
        kind: (path) => (path.endsWith('trees.yaml') ? 'other' : 'file'),
        size: refusing('/trial/trees.yaml', 'ENOENT', 'it does not exist', files.size),
      },
    ],
    [
      'cannot be listed',
      'cannot use /trial/seasons: this account may not open it',
      {
        list: () => {
          throw new FileFault('/trial/seasons', 'EACCES', 'this account may not open it');
        },
      },
    ],
  ])('%s: one plain line and status 3', async (_, line, fault) => {
    const captured = memoryHost({ files: SMALL_EXAMPLE });
    const status = await run(['yield'], {
      ...captured.host,
      files: { ...captured.host.files, ...fault },
    });
    expect([status, captured.out(), captured.err()]).toEqual([3, '', `pomary: ${line}\n`]);
  });
});

/** Files of the small example, of which one is refused. */
function refusing<Result>(
  wanted: string,
  code: string,
  reason: string,
  otherwise: (path: string) => Result,
): (path: string) => Result {
  return (path) => {
    if (path === wanted) throw new FileFault(path, code, reason);
    return otherwise(path);
  };
}
