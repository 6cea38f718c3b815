import { describe, expect, it } from 'vitest';
import { run } from '../src/cli/run.ts';
import { exampleFiles } from './support/example-files.ts';
import { memoryHost } from './support/memory-host.ts';

const example = exampleFiles();
const tables = [
  ['counts', 'counts'],
  ['picks', 'picks'],
  ['drops', 'drops'],
  ['growth', 'growth'],
  ['events', 'events'],
  ['samples', 'tastings'],
  ['scores', 'tastings'],
  ['words', 'tastings'],
  ['orders', 'tastings'],
  ['tastings', 'tastings'],
] as const;
type Files = Readonly<Record<string, string>>;

async function pomary(argv: readonly string[], files: Files) {
  const captured = memoryHost({ files });
  const status = await run(argv, captured.host);
  const after = [...captured.files].map(([path, text]) => [
    path.slice('/trial/'.length),
    String(text),
  ]);
  return {
    status,
    out: captured.out(),
    err: captured.err(),
    files: Object.fromEntries(after) as Files,
  };
}

const without = (files: Files): Files =>
  Object.fromEntries(
    Object.entries(files).map(([path, text]) => [
      path,
      path.startsWith('seasons/') ? `season: ${path.slice(8, 12)}\n` : text,
    ]),
  );

/** Rows of a table without the ids of entries, which count up in the order of the file. */
async function rowsOf(table: string, files: Files): Promise<readonly string[]> {
  const { out } = await pomary(['export', '--table', table, '--format', 'jsonl'], files);
  return out
    .split('\n')
    .map((row) => row.replaceAll(/"(?:entry|sample)":"[^"]*",?/g, ''))
    .sort();
}

async function broughtBack(files: Files, more: readonly string[] = []): Promise<Files> {
  let copy = without(files);
  for (const [table, kind] of tables) {
    const { out } = await pomary(['export', '--table', table], files);
    const given = { ...copy, 't.csv': out };
    const ran = await pomary(['import', 't.csv', '--kind', kind, ...more], given);
    expect([ran.status, ran.err.match(/^.* error .*$/gm), ran.out.match(/^Left out.*/gm)]).toEqual([
      0,
      null,
      null,
    ]);
    copy = ran.files;
  }
  return copy;
}

describe('what export writes', () => {
  it('comes back through import with the same figures', async () => {
    const copy = await broughtBack(example);
    for (const [table] of tables) {
      expect(await rowsOf(table, copy), table).toEqual(await rowsOf(table, example));
    }
    for (const report of ['yield', 'weights', 'soundness', 'scores', 'preference']) {
      const argv = [report, '--format', 'json'];
      expect((await pomary(argv, copy)).out, report).toBe((await pomary(argv, example)).out);
    }
  }, 120_000);

  it('comes back where a spray was of the whole trial, however that is said', async () => {
    const spray = '  - { on: 2026-04-02, site: all, kind: spray, product: soap, wait_days: 3 }\n';
    const files = { ...example, 'seasons/2026.yaml': `season: 2026\nevents:\n${spray}` };
    const { out } = await pomary(['export', '--table', 'events'], files);
    const given = { ...without(files), 't.csv': out };
    const ran = await pomary(['import', 't.csv', '--kind', 'events'], given);
    expect([ran.status, ran.err]).toEqual([0, '']);
    expect(ran.files['seasons/2026.yaml']).toContain(spray);
    const typed = {
      ...without(files),
      't.csv': 'date;where;what;with;wait days\n2.4.2026;All;spray;soap;3\n',
    };
    const all = await pomary(['import', 't.csv', '--kind', 'events'], typed);
    expect(all.files['seasons/2026.yaml']).toContain(spray);
  });

  it('comes back with decimal commas too, from a ledger that has them', async () => {
    const files = { ...example, 'ledger.yaml': `${example['ledger.yaml']}decimal: comma\n` };
    const picks = (await pomary(['export', '--table', 'picks'], files)).out;
    expect(picks).toMatch(/^entry;season;date;/);
    expect(picks).toMatch(/;\d+,\d \d+,\d/);
    expect(picks).not.toMatch(/\d\.\d/);
    const copy = await broughtBack(files);
    for (const table of ['picks', 'growth', 'samples', 'scores']) {
      expect(await rowsOf(table, copy), table).toEqual(await rowsOf(table, example));
    }
    const weights = ['weights', '--format', 'csv'];
    const comma = (await pomary(weights, files)).out;
    const point = (await pomary([...weights, '--decimal', 'point'], files)).out;
    expect(point).toBe((await pomary(weights, example)).out);
    expect(
      comma
        .split('\n')[1]
        ?.split(';')
        .map((cell) => cell.replace(',', '.')),
    ).toEqual(point.split('\n')[1]?.split(','));
    const json = ['weights', '--format', 'json'];
    expect((await pomary(json, files)).out).toBe((await pomary(json, example)).out);
  }, 120_000);

  it('brings cultivars and trees back', async () => {
    const bare = { ...example, 'cultivars.yaml': '', 'trees.yaml': '' };
    const without: Files = Object.fromEntries(
      Object.entries(bare).filter(([path]) => !path.startsWith('seasons/')),
    );
    let copy = {
      ...without,
      'ledger.yaml': (without['ledger.yaml'] ?? '').replace(/^standard:.*$/m, ''),
    };
    for (const kind of ['cultivars', 'trees']) {
      const { out } = await pomary(['export', '--table', kind], example);
      const ran = await pomary(['import', 't.csv', '--kind', kind], { ...copy, 't.csv': out });
      expect([ran.status, ran.err.match(/^.* error .*$/gm), ran.out]).toEqual([
        0,
        null,
        expect.stringMatching(/^\w+\.yaml: \d+ \w+ written\n$/),
      ]);
      copy = ran.files as typeof copy;
    }
    for (const table of ['cultivars', 'trees']) {
      const argv = ['export', '--table', table];
      expect((await pomary(argv, copy)).out).toBe((await pomary(argv, example)).out);
    }
  });

  it('is passed over where it is there already, and told', async () => {
    for (const [table, kind] of tables) {
      const { out } = await pomary(['export', '--table', table], example);
      const given = { ...example, 't.csv': out };
      const ran = await pomary(['import', 't.csv', '--kind', kind], given);
      expect([ran.status, ran.err, ran.files], table).toEqual([0, '', given]);
      const told = ran.out.match(/^\S.*/gm)?.join(' ') ?? '';
      expect(told, table).toMatch(
        /^(?:seasons\/\d{4}\.yaml: (?:1 row is|\d+ rows are) there already and passed over \(lines? [\d, -]+\) ?)+(?:What is true twice is written once more with --again\.)?$/,
      );
    }
  }, 120_000);

  it('new rows among known ones are written, and only those', async () => {
    const { out } = await pomary(['export', '--table', 'drops'], example);
    const [head = '', first = '', ...rest] = out.trimEnd().split('\n');
    const fresh = first.replace(/,\d{4}-\d\d-\d\d,/, (date) => date.replace(/\d\d,$/, '02,'));
    const given = { ...example, 't.csv': `${[head, first, fresh, first, ...rest].join('\n')}\n` };
    const ran = await pomary(['import', 't.csv', '--kind', 'drops'], given);
    expect(ran.out).toMatch(/there already and passed over \(lines 2, [\d, -]+\)/);
    expect(ran.out).toMatch(/: 2 drops written\n/);
    const all = await pomary(['import', 't.csv', '--kind', 'drops', '--again'], given);
    expect(all.out).not.toContain('passed over');
    const number = rest.length + 3;
    expect(
      all.out.match(/\d+(?= drops written)/g)?.reduce((sum, one) => sum + Number(one), 0),
    ).toBe(number);
  });
});
