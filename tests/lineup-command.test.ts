import { describe, expect, it, test } from 'vitest';
import { EXIT } from '../src/cli/exit.ts';
import { run } from '../src/cli/run.ts';
import { checkFiles, type Files } from './support/check-files.ts';
import { memoryHost } from './support/memory-host.ts';
import { TASTING_FILES } from './support/tasting-files.ts';

interface Told {
  readonly crop: string;
  readonly samples: readonly {
    readonly code: string;
    readonly tree: string;
    readonly cultivarKey: string;
    readonly fruitLeft: number | null;
    readonly against: string | null;
    readonly orderRight: number | null;
    readonly why: string;
  }[];
  readonly orders: readonly { readonly taster: string; readonly codes: readonly string[] }[];
  readonly leftOut: readonly { readonly tree: string; readonly why: string }[];
  readonly notes: readonly { readonly kind: string; readonly text: string }[];
  readonly yaml: string | null;
  readonly outlook: {
    readonly of: string;
    readonly now: number;
    readonly after: number;
    readonly afterAny: number | null;
    readonly afterLeastTasted: number | null;
  } | null;
}

async function lineup(args: readonly string[], files: Files = TASTING_FILES) {
  const { host, out, err, files: written } = memoryHost({ files });
  const status = await run(['lineup', ...args], host);
  return { status, out: out(), err: err(), written };
}

const ON = ['--on', '2026-08-20'];

async function told(args: readonly string[], files: Files = TASTING_FILES): Promise<Told> {
  const { status, out, err } = await lineup([...ON, ...args, '--format', 'json'], files);
  expect(err).toBe('');
  expect(status).toBe(EXIT.done);
  return JSON.parse(out) as Told;
}

/** A season's file with something put in behind a line. */
function season(behind: string, text: string): Files {
  const file = TASTING_FILES['seasons/2026.yaml'] ?? '';
  expect(file).toContain(behind);
  return { ...TASTING_FILES, 'seasons/2026.yaml': file.replace(behind, `${behind}${text}`) };
}

describe('pomary lineup', () => {
  it('tastes the close ones at the top and the one never tasted, not those far behind', async () => {
    const { samples, crop } = await told(['--samples', '3']);
    expect(crop).toBe('main');
    const keys = samples.map(({ cultivarKey }) => cultivarKey);
    expect(keys).toContain('penny-wherry');
    expect(keys).not.toContain('bushel-maid');
    expect(keys).not.toContain('gulls-supper');
    const wherry = samples.find(({ cultivarKey }) => cultivarKey === 'penny-wherry');
    expect(wherry?.why).toMatch(
      /^Penny Wherry: never tasted ripe yet; may be among the best 3 \(\d+ in 100\)$/,
    );
  });

  it('says what the sitting is expected to gain, and what others would', async () => {
    const { outlook, notes } = await told(['--samples', '3']);
    const { now, after, afterAny, afterLeastTasted } = outlook ?? expect.fail('nothing said');
    expect(now).toBeGreaterThan(0.5);
    expect(after).toBeGreaterThan(now);
    expect(after).toBeGreaterThanOrEqual(afterAny ?? 1);
    expect(after).toBeGreaterThanOrEqual(afterLeastTasted ?? 1);
    expect(after).toBeLessThan(1);
    expect(notes[0]?.text).toMatch(/^Of 100 pairs near the top [\d.]+ now stand right; after this/);
    const all = await told(['--samples', '6']);
    expect(all.outlook).toMatchObject({ afterAny: null, afterLeastTasted: null });
    expect(all.outlook?.after).toBeGreaterThan(after);
  });

  it('says so where no sitting helps, and where any set would do', async () => {
    // Four sittings more, with the same scores, of those that were tasted: little is left to learn of them.
    const file = TASTING_FILES['seasons/2026.yaml'] ?? '';
    const sitting = file.slice(file.indexOf('  - on: 2026-08-14'));
    const more = ['15', '16', '17', '18'].map((day) => sitting.replace('08-14', `08-${day}`));
    const files = { ...TASTING_FILES, 'seasons/2026.yaml': `${file}${more.join('')}` };
    const { notes, outlook } = await told(
      ['--samples', '2', '--candidates', 'slate-quay,nightjar-silk,bushel-maid,amber-lantern'],
      files,
    );
    expect((outlook?.after ?? 1) - (outlook?.now ?? 0)).toBeLessThan(0.01);
    expect(notes[1]?.text).toContain('Another tasting this season changes little');
  });

  it('chooses for verdicts where that is asked', async () => {
    const { outlook, notes, samples } = await told(['--for', 'verdict', '--samples', '2']);
    expect(outlook?.of).toBe('verdicts');
    expect(samples).toHaveLength(2);
    expect(outlook?.after).toBeGreaterThanOrEqual(outlook?.now ?? 1);
    expect(notes[0]?.text).toContain('verdicts');
    for (const { why } of samples) expect(why).not.toContain('among the best');
    expect(samples.some(({ why }) => why.includes('may be above or below'))).toBe(true);
  });

  it('looks at nothing after the day', async () => {
    const early = await told(['--on', '2026-08-12']);
    const file = TASTING_FILES['seasons/2026.yaml'] ?? '';
    const cut = file.slice(0, file.indexOf('  - on: 2026-08-14'));
    const without = await told(['--on', '2026-08-12'], {
      ...TASTING_FILES,
      'seasons/2026.yaml': cut,
    });
    expect(early.outlook).toEqual(without.outlook);
  });

  it('takes the tree that was not tasted yet', async () => {
    const trees = `${TASTING_FILES['trees.yaml']}S2: { cultivar: slate-quay, site: yard }\n`;
    const picked = '  - { on: 2026-08-18, tree: S1, crop: main, fruit: 4 }\n';
    const files = {
      ...season(picked, picked.replace('S1', 'S2')),
      'trees.yaml': trees,
    };
    const { samples } = await told(['--candidates', 'slate-quay,nightjar-silk'], files);
    expect(samples.map(({ tree }) => tree).toSorted()).toEqual(['N1', 'S2']);
    const own = samples.find(({ tree }) => tree === 'S2');
    expect(own?.why).toContain('from S2, which is known less than S1');
  });

  it('gives every sample another code, and every taster every code once', async () => {
    const { samples, orders } = await told([]);
    const codes = samples.map(({ code }) => code);
    expect(samples).toHaveLength(5);
    expect(new Set(codes).size).toBe(5);
    for (const code of codes) {
      expect(code).toMatch(/^[1-9]\d\d$/);
      expect(['431', '268', '915', '704', '357']).not.toContain(code);
    }
    expect(orders.map(({ taster }) => taster)).toEqual(['joss', 'mara', 'odo']);
    for (const order of orders) expect(order.codes.toSorted()).toEqual(codes.toSorted());
  });

  it('shares out first places, and who follows whom, over a whole square of tasters', async () => {
    const tasters = 'tasters: { a1: A, a2: B, a3: C, a4: D }';
    const four = (TASTING_FILES['ledger.yaml'] ?? '').replace(
      'tasters: { mara: Mara, joss: Joss, odo: Odo }',
      tasters,
    );
    const untasted = (TASTING_FILES['seasons/2026.yaml'] ?? '').replace(/tastings:[\s\S]*$/, '');
    const { orders } = await told(['--samples', '4'], {
      ...TASTING_FILES,
      'ledger.yaml': four,
      'seasons/2026.yaml': untasted,
    });
    // Williams 1949: with 4 samples and 4 tasters each stands in each place once, and follows each
    // other one once.
    for (const place of [0, 1, 2, 3]) {
      expect(new Set(orders.map(({ codes }) => codes[place])).size).toBe(4);
    }
    const neighbours = orders.flatMap(({ codes }) =>
      codes.slice(1).map((code, at) => `${codes[at]} ${code}`),
    );
    expect(new Set(neighbours).size).toBe(12);
  });

  it('is the same for the same seed, and chooses the same for another', async () => {
    const [first, again, other] = await Promise.all(
      ['4', '4', '5'].map((seed) => lineup([...ON, '--format', 'json', '--seed', seed])),
    );
    expect(again?.out).toBe(first?.out);
    const a = JSON.parse(first?.out ?? '') as Told;
    const b = JSON.parse(other?.out ?? '') as Told;
    expect(b.samples.map(({ tree }) => tree).toSorted()).toEqual(
      a.samples.map(({ tree }) => tree).toSorted(),
    );
    expect(b.samples.map(({ code }) => code)).not.toEqual(a.samples.map(({ code }) => code));
  });

  it('serves nothing in the waiting days of a spray, even if it is asked for', async () => {
    const files = season(
      'season: 2026\n',
      'events:\n  - { on: 2026-08-19, site: glass, kind: spray, product: soap, wait_days: 3 }\n',
    );
    for (const args of [[], ['--candidates', 'nightjar-silk,slate-quay']]) {
      const { samples, leftOut } = await told(args, files);
      expect(samples.map(({ tree }) => tree)).not.toContain('N1');
      expect(leftOut).toMatchObject([{ tree: 'N1', cultivar: 'Nightjar Silk' }]);
      expect(leftOut[0]?.why).toContain('not to be eaten before 22 August');
    }
  });

  it('tells the tree and what is left on it, where that was counted', async () => {
    const { samples } = await told(['--candidates', 'Amber Lantern,slate-quay']);
    expect(samples.find(({ tree }) => tree === 'A1')).toMatchObject({ fruitLeft: 16 });
    const slate = samples.find(({ tree }) => tree === 'S1');
    expect(slate).toMatchObject({ fruitLeft: null, against: 'amber-lantern' });
    expect(slate?.orderRight).toBeGreaterThan(0.5);
  });

  it('says so where nothing is ripe', async () => {
    const { out, status } = await lineup([]);
    expect(status).toBe(EXIT.done);
    expect(out).toContain('No tasting to propose for 1 November 2026');
    expect(out).toMatch(/picks ran from 18\s+August\s+2026\s+to\s+18\s+August\s+2026/);
    const json = await lineup(['--format', 'json']);
    expect(JSON.parse(json.out)).toMatchObject({ samples: [], orders: [], yaml: null });
  });

  it('shows codes beside trees on one page only, and cautions once', async () => {
    const { out } = await lineup(ON);
    const [server, ...sheets] = out.split(/\n(?:Mara|Joss|Odo), 20 August 2026\n/);
    expect(sheets).toHaveLength(3);
    expect(server).toContain('Slate Quay');
    expect(out.match(/mouldy or soured/g)).toHaveLength(1);
    expect(out.match(/Ask everyone first/g)).toHaveLength(1);
    const beforeYaml = sheets.join('\n').split('After the tasting')[0] ?? '';
    expect(beforeYaml).not.toMatch(/Slate Quay|Amber Lantern|Nightjar Silk|Penny Wherry/);
    for (const line of out.split('\n')) expect(line.length).toBeLessThanOrEqual(80);
    // biome-ignore lint/suspicious/noControlCharactersInRegex: no terminal escapes in a pipe
    expect(out).not.toMatch(/\u001b/);
  });

  it('writes the sheets to a file, in the form that its name asks for', async () => {
    const { out, written } = await lineup([...ON, '--sheet', 'tasting.md']);
    expect(out).toBe(
      'Tasting of 20 August 2026, main crop: 5 samples for 3 tasters: written to tasting.md\n',
    );
    const page = String(written.get('/trial/tasting.md'));
    expect(page).toMatch(/^# Tasting of 20 August 2026/);
    expect(page).toContain('| Code | Tree | Cultivar |');
    expect(page).toContain('## Mara, 20 August 2026');
    expect(page).toContain('```yaml\n  - on: 2026-08-20');
  });

  it('prints a page a taster with boxes, and the key on a page of its own', async () => {
    const { out, written } = await lineup([...ON, '--output', 'tasting.html']);
    expect(out).toBe('');
    const page = String(written.get('/trial/tasting.html'));
    expect(page).toMatch(/^<!doctype html>/);
    expect(page).toContain('<td class="number" data-head="Fruit left">');
    expect(page).toContain("default-src 'none'");
    expect(page).toMatch(/section \+ section \{\s*break-before: page;/);
    const [key = '', ...others] = page.split('<section>').slice(1);
    const sheets = others.slice(0, -1);
    expect(key).toContain('Slate Quay');
    expect(key).toContain('Ask everyone first');
    // What goes into the file names the trees, too, and has a page of its own.
    expect(others.at(-1)).toContain('- on: 2026-08-20');
    expect(sheets.map((sheet) => /<h2>(\w+), 20 August 2026</.exec(sheet)?.[1])).toEqual([
      'Joss',
      'Mara',
      'Odo',
    ]);
    for (const sheet of sheets) {
      expect(sheet).not.toMatch(/Slate Quay|Amber Lantern|Nightjar Silk|Penny Wherry|on: 2026/);
      // Five samples, each with a row of empty boxes, and a blank for each in the order.
      expect(sheet.match(/<th scope="row">\d{3}<\/th>\n<td/g)).toHaveLength(5);
      expect(sheet.match(/<td[^>]*>[^<]/g)).toBeNull();
      expect(sheet.match(/class="blank"/g)).toHaveLength(5);
    }
  });

  it('is written by --sheet as by --output, and by one of them only', async () => {
    const [one, other, both] = await Promise.all([
      lineup([...ON, '--sheet', 'a.html']),
      lineup([...ON, '--output', 'a.html']),
      lineup([...ON, '--sheet', 'a.html', '--output', 'b.html']),
    ]);
    expect(one.written.get('/trial/a.html')).toBe(other.written.get('/trial/a.html'));
    expect(both.status).toBe(EXIT.usage);
    const text = await lineup([...ON, '--output', 'a.html', '--format', 'text']);
    expect(String(text.written.get('/trial/a.html'))).toMatch(/^Tasting of 20 August 2026/);
  });

  it('begins a page before each taster and before what goes into the file', async () => {
    const { out } = await lineup(ON);
    expect(
      out
        .split('\n\f\n')
        .slice(1)
        .map((page) => /\w+/.exec(page)?.[0]),
    ).toEqual(['Joss', 'Mara', 'Odo', 'After']);
    const markdown = await lineup([...ON, '--format', 'markdown']);
    const pages = markdown.out.split('\n\n<div style="break-before: page"></div>\n\n## ');
    expect(pages.slice(1).map((page) => /\w+/.exec(page)?.[0])).toEqual([
      'Joss',
      'Mara',
      'Odo',
      'After',
    ]);
  });

  test.each([
    ['--tasters', 'nobody', 'no such taster'],
    ['--candidates', 'no-such-fig', 'no such cultivar'],
    ['--crop', 'third', 'the crops are'],
    ['--on', '2026-02-30', 'write a date'],
    ['--samples', '0', 'write a whole number'],
    ['--samples', '21', 'at most 20'],
    ['--seed', '1.5', 'write a whole number'],
  ])('refuses %s %s', async (option, value, words) => {
    const { status, err, out } = await lineup([option, value]);
    expect(status).toBe(EXIT.usage);
    expect(err).toContain(words);
    expect(out).toBe('');
  });
});

/** What the reader and the rules say of a season's file after something was put at its end. */
function problemsAfter(files: Files, text: string) {
  const before = files['seasons/2026.yaml'] ?? '';
  const pasted = { ...files, 'seasons/2026.yaml': `${before}${text}` };
  return checkFiles(pasted).map(({ rule, severity }) => `${severity} ${rule}`);
}

/** The score sheets of a proposal with their marks taken away and a score in every blank. */
function filledIn(yaml: string): string {
  return yaml
    .split('\n')
    .filter((line) => !line.includes('Fill in'))
    .map((line) => line.replace(/^ {4}# /, '    ').replaceAll(/: (?=[,}])/g, ': 7 '))
    .join('\n');
}

it('says the lines that enter takes for the same sitting', async () => {
  const { out } = await lineup([...ON, '--format', 'markdown']);
  const typed = /```text\n([\s\S]*?)\n```/.exec(out)?.[1] ?? '';
  expect(typed).toMatch(/^on 2026-08-20\ntaste \S+ main as \d{3} ripe\n/);
  const { host, err, files } = memoryHost({
    files: TASTING_FILES,
    stdin: `${typed.replaceAll(' -', ' 7')}\n`,
  });
  expect({ status: await run(['enter'], host), err: err() }).toEqual({ status: 0, err: '' });
  const season = String(files.get('/trial/seasons/2026.yaml'));
  const [sitting = ''] = / {2}- on: 2026-08-20[\s\S]*?order:[\s\S]*?\]/.exec(season) ?? [];
  expect(sitting.match(/as: "\d{3}", ripeness: ripe/g)).toHaveLength(5);
  expect(sitting.match(/"\d{3}": \{ /g)).toHaveLength(15);
});

describe('the YAML of a proposal', () => {
  const untasted = (TASTING_FILES['seasons/2026.yaml'] ?? '').replace(/tastings:[\s\S]*$/, '');
  const withoutSeason = Object.fromEntries(
    Object.entries(TASTING_FILES).filter(([path]) => !path.startsWith('seasons/')),
  );
  const all = ['--candidates', 'slate-quay,penny-wherry,nightjar-silk'];

  test.each([
    ['under the tastings of a file', TASTING_FILES],
    ['at the end of a file without tastings', { ...TASTING_FILES, 'seasons/2026.yaml': untasted }],
    ['as a new file', withoutSeason],
  ])('is fit to paste %s, empty and filled in', async (_where, files) => {
    const before = checkFiles(files).map(({ rule, severity }) => `${severity} ${rule}`);
    const { yaml, samples } = await told(all, files);
    expect(samples).toHaveLength(3);
    // An empty sitting is no more than a hint, which goes once scores are in.
    const added = problemsAfter(files, yaml ?? '').filter((one) => !before.includes(one));
    expect(added).toEqual(['hint tasting-empty']);
    const filled = problemsAfter(files, filledIn(yaml ?? ''));
    expect(filled.filter((one) => !before.includes(one))).toEqual([]);
  });

  it('is seen by the next proposal: its codes are not used again', async () => {
    const first = await told([]);
    const files = {
      ...TASTING_FILES,
      'seasons/2026.yaml': `${TASTING_FILES['seasons/2026.yaml']}${first.yaml}`,
    };
    const second = await told([], files);
    const codes = first.samples.map(({ code }) => code);
    expect(second.samples.filter(({ code }) => codes.includes(code))).toEqual([]);
  });
});
