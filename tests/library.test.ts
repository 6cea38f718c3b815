import { mkdtempSync, readdirSync, readFileSync, statSync, symlinkSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { NEIGHBOURS, neighbourFiles } from './support/neighbour-files.ts';
import { ProgramFolder } from './support/program-folder.ts';
import { runOn } from './support/run-on.ts';
import { WALL_AND_GLASS } from './support/wall-and-glass.ts';

const folder = new ProgramFolder();
const printedBy = (program: string) => folder.printedBy(program);

beforeAll(() => folder.lay('trial', WALL_AND_GLASS));
afterAll(() => folder.remove());

function printedByCommand(...argv: readonly string[]): unknown {
  const { stdout, stderr } = folder.pomary('--ledger', 'trial', ...argv, '--format', 'json');
  expect(stderr).toBe('');
  return JSON.parse(stdout);
}

/** A call of the library, and the command line that must print the same. */
const CALLS: readonly (readonly [call: string, argv: readonly string[]])[] = [
  ['yields(ledger)', ['yield']],
  ['words(ledger)', ['words']],
  ['words(ledger, { ripeness: "over", top: 1 })', ['words', '--ripeness', 'over', '--top', '1']],
  ['yields(ledger, { by: ["cultivar", "season"] })', ['yield', '--by', 'cultivar,season']],
  [
    'weights(ledger, { season: 2025, confidence: 90 })',
    ['weights', '--season', '2025', '--confidence', '90'],
  ],
  ['crops(ledger, { tree: ["A1", "S1"] })', ['crops', '--tree', 'A1', '--tree', 'S1']],
  ['soundness(ledger, { site: "yard" })', ['soundness', '--site', 'yard']],
  [
    'soundness(ledger, { after: "water", within: 5 })',
    ['soundness', '--after', 'water', '--within', '5'],
  ],
  ['ripening(ledger, { crop: "main" })', ['ripening', '--crop', 'main']],
  [
    'scores(ledger, { trait: "flavour", ripeness: ["ripe", "over"] })',
    ['scores', '--trait', 'flavour', '--ripeness', 'ripe', '--ripeness', 'over'],
  ],
  [
    'preference(ledger, { from: "both", prior: 1 })',
    ['preference', '--from', 'both', '--prior', '1'],
  ],
  ['compare(ledger, "Slate Quay", "amber-lantern")', ['compare', 'Slate Quay', 'amber-lantern']],
  ['rank(ledger)', ['rank']],
  [
    'rank(ledger, { season: [2025, 2026], top: 1, seed: 4, sort: "index:asc" })',
    ['rank', '--season', '2025..2026', '--top', '1', '--seed', '4', '--sort', 'index:asc'],
  ],
  ['verdict(ledger)', ['verdict']],
  ['verdict(ledger, { by: "cover", explain: true })', ['verdict', '--by', 'cover', '--explain']],
  ['scores(ledger, { explain: true })', ['scores', '--explain']],
  ['stability(ledger, { of: "size" })', ['stability', '--of', 'size']],
  ['day(ledger, "2026-09-05", { names: false })', ['day', '2026-09-05', '--no-names']],
  [
    'card(ledger, "Amber Lantern", { season: 2026 })',
    ['card', 'Amber Lantern', '--season', '2026'],
  ],
  ['changes(ledger, { top: 2 })', ['changes', '--top', '2']],
  ['sheet(ledger, { on: "2026-08-20" })', ['sheet', '--on', '2026-08-20']],
  ['sheet(ledger, { site: ["yard"], today: "2026-11-01" })', ['sheet', '--site', 'yard']],
  ['yields(ledger, { explain: true })', ['yield', '--explain']],
  [
    'lineup(ledger, { on: "2026-09-07", tasters: ["joss", "mara"], candidates: "slate-quay" })',
    [
      ...['lineup', '--on', '2026-09-07', '--tasters', 'joss', '--tasters', 'mara'],
      ...['--candidates', 'slate-quay'],
    ],
  ],
  [
    'lineup(ledger, { on: "2026-09-07", samples: 2, for: "verdict" })',
    ['lineup', '--on', '2026-09-07', '--samples', '2', '--for', 'verdict'],
  ],
];

describe('the library gives what the command prints', () => {
  let given: Readonly<Record<string, unknown>> = {};
  beforeAll(() => {
    given = printedBy(`
      import * as pomary from 'pomary';
      const { ${[...new Set(CALLS.map(([call]) => /^\w+/.exec(call)?.[0]))].join(', ')} } = pomary;
      const { ledger } = await pomary.openLedger('trial');
      const given = {};
      ${CALLS.map(([call]) => `given[${JSON.stringify(call)}] = await ${call};`).join('\n')}
      console.log(JSON.stringify(given));
    `) as Readonly<Record<string, unknown>>;
  });

  test.each(CALLS)('%s', async (call, argv) => {
    const { exit, out, err } = await runOn([...argv, '--format', 'json'], WALL_AND_GLASS);
    expect([exit, err]).toEqual([0, '']);
    expect(given[call]).toEqual(JSON.parse(out));
    expect(given[call]).toHaveProperty('report', argv[0]);
  });
});

test('a table is the one that the command exports', async () => {
  const names = ['picks', 'weights', 'scores', 'figures', 'columns'];
  const given = printedBy(`
    import { openLedger, table } from 'pomary';
    const { ledger } = await openLedger('trial');
    const given = {};
    for (const name of ${JSON.stringify(names)}) {
      given[name] = await table(ledger, name, { today: '2026-11-01' });
    }
    console.log(JSON.stringify(given));
  `) as Readonly<Record<string, { rows: unknown; columns: { key: string; kind: string }[] }>>;
  for (const name of names) {
    const { out } = await runOn(['export', '--table', name, '--format', 'jsonl'], WALL_AND_GLASS);
    const lines = out.trim().split('\n');
    expect(given[name]?.rows).toEqual(lines.map((line): unknown => JSON.parse(line)));
  }
  expect(given['picks']?.columns).toContainEqual(expect.objectContaining({ kind: 'date' }));
});

test('several gardens give what the command prints, whatever order they are named in', () => {
  folder.lay('gardens', neighbourFiles());
  const asked =
    '{ season: "2024..2026", crop: "main", cover: "open", parts: ["flavour", "size"], top: 4, explain: true }';
  const given = printedBy(`
    import { openLedger, pool } from 'pomary';
    const at = async (name) => (await openLedger('gardens/' + name)).ledger;
    const others = await Promise.all(${JSON.stringify(NEIGHBOURS.toReversed())}.map(at));
    console.log(JSON.stringify(await pool(await at('home'), others, ${asked})));
  `);
  const options =
    '--season 2024..2026 --crop main --cover open --parts flavour,size --top 4 --explain';
  const { stdout } = folder.pomary(
    ...['--ledger', 'gardens/home', 'pool'],
    ...NEIGHBOURS.map((name) => `gardens/${name}`),
    ...[...options.split(' '), '--format', 'json'],
  );
  expect(given).toEqual(JSON.parse(stdout));
  expect(given).toHaveProperty('report', 'pool');
});

const EXAMPLE = fileURLToPath(new URL('../ledger-example', import.meta.url));
const OTHERS = NEIGHBOURS.map((name) =>
  fileURLToPath(new URL(`neighbours/${name}`, import.meta.url)),
);

/** A post as the library is asked for it and as the command is, of a ledger. */
const POSTS: readonly (readonly [asked: string, home: string, argv: readonly string[]])[] = [
  ['{ season: 2026, cards: "inside" }', EXAMPLE, ['--season', '2026']],
  [
    '{ cards: "beside", figuresFormat: "png", tags: ["figs", "trial"] }',
    'trial',
    ['--cards', 'beside', '--figures-format', 'png', '--tags', 'figs,trial'],
  ],
  [
    '{ cards: "beside", format: "html", full: true, ground: "dark", figuresUrl: "https://tidewrack.example/figs" }',
    'trial',
    [
      ...['--cards', 'beside', '--format', 'html', '--full', '--ground', 'dark'],
      ...['--figures-url', 'https://tidewrack.example/figs'],
    ],
  ],
  [
    '{ frontMatter: "none", nameTasters: true, title: "Figs & walls", crop: "main", confidence: 90, figuresFormat: "png" }',
    'trial',
    [
      ...['--front-matter', 'none', '--name-tasters', '--title', 'Figs & walls'],
      ...['--crop', 'main', '--confidence', '90', '--figures-format', 'png', '--cards', 'none'],
    ],
  ],
  [
    '{ pool, crop: "main", format: "html" }',
    EXAMPLE,
    ['--crop', 'main', '--format', 'html', '--cards', 'none', '--pool', ...OTHERS],
  ],
];

const freshFolder = () => mkdtempSync(join(folder.path, 'pages-'));

/** What lies in a folder, by path. */
function contentsOf(path: string): ReadonlyMap<string, string> {
  const names = readdirSync(path, { recursive: true, encoding: 'utf8' }).toSorted();
  const files = names.filter((name) => statSync(join(path, name)).isFile());
  return new Map(
    files.map((name) => [name.replaceAll('\\', '/'), readFileSync(join(path, name), 'base64')]),
  );
}

describe('what a site generator wants', () => {
  test('a post comes with the figures and photos that its Markdown links', () => {
    const given = printedBy(`
      import { openLedger, post } from 'pomary';
      const { ledger } = await openLedger('trial');
      const asked = { season: '2025..2026', tags: ['figs'], date: '2026-11-01', figuresUrl: '/figs/' };
      console.log(JSON.stringify(await post(ledger, asked)));
    `) as {
      markdown: string;
      html: string;
      description: string;
      figures: { file: string; svg: string }[];
    };
    expect(given.markdown).toMatch(/^---\ntitle: ".*"\ndate: 2026-11-01\n/);
    expect(given.markdown).toContain(`description: ${JSON.stringify(given.description)}`);
    expect(given.html).toMatch(/^<!doctype html>/i);
    for (const { file, svg } of given.figures) {
      expect(given.markdown).toContain(`(/figs/${file})`);
      expect(svg).toMatch(/^<svg /);
    }
  });

  test.each(POSTS)('a post is byte for byte that of the command: %s', (asked, home, argv) => {
    const [made, written] = [freshFolder(), freshFolder()];
    // As a generator would: each thing under the name that it has.
    const warnings = printedBy(`
      import { mkdirSync, writeFileSync } from 'node:fs';
      import { dirname, join } from 'node:path';
      import { openLedger, post } from 'pomary';
      const { ledger } = await openLedger(${JSON.stringify(home)});
      const others = ${JSON.stringify(OTHERS)};
      const pool = await Promise.all(others.map(async (one) => (await openLedger(one)).ledger));
      const asked = { figuresUrl: '.', ...${asked} };
      const { folder, markdown, html, figures, photos, cards, warnings } = await post(ledger, asked);
      const write = (file, content) => {
        const path = join(${JSON.stringify(made)}, folder, file);
        mkdirSync(dirname(path), { recursive: true });
        writeFileSync(path, content);
      };
      if (asked.format === 'html') write('index.html', html);
      else write('index.md', markdown);
      for (const { file, svg, png } of figures) write(file, png ?? svg);
      for (const { file, text } of cards) write(file, text);
      for (const photo of photos) write(photo, 'a photo');
      console.log(JSON.stringify(warnings));
    `);
    const into = ['--ledger', home, 'post', '--into', written, '--figures-url', '.'];
    const { status, stderr } = folder.pomary(...into, ...argv);
    expect({ status, warnings }).toEqual({ status: 0, warnings: stderr.split('\n').slice(0, -1) });
    const pages = contentsOf(written);
    expect([...contentsOf(made).keys()]).toEqual([...pages.keys()]);
    for (const [path, bytes] of contentsOf(made)) {
      if (!path.includes('/photos/'))
        expect({ path, bytes }).toEqual({ path, bytes: pages.get(path) });
    }
  });

  test('photos that are not in the ledger are left out, as the command leaves them', () => {
    const season = WALL_AND_GLASS['seasons/2025.yaml']
      ?.replace('brix: 18 }', 'brix: 18, photo: photos/linked.png }')
      .replace('note: gone at the neck }', 'note: gone, photo: photos/none.png }');
    folder.lay('album', { ...WALL_AND_GLASS, 'seasons/2025.yaml': season ?? '' });
    folder.lay('.', { 'secret.png': 'not to be shown', 'album/photos/notes.txt': 'a list' });
    symlinkSync(join(folder.path, 'secret.png'), join(folder.path, 'album/photos/linked.png'));
    const given = printedBy(`
      import { openLedger, post } from 'pomary';
      const { ledger } = await openLedger('album');
      const { photos, warnings } = await post(ledger, { cards: 'inside' });
      console.log(JSON.stringify({ photos, warnings }));
    `);
    const into = ['--ledger', 'album', 'post', '--into', freshFolder()];
    const { stderr } = folder.pomary(...into);
    expect(given).toEqual({ photos: [], warnings: stderr.trimEnd().split('\n') });
    expect(stderr).toContain('the photo photos/linked.png does not lie inside the ledger');
    expect(stderr).toContain('there is no picture photos/none.png in the ledger');
  });

  test('what a figure as PNG cannot show is told, and not on a screen', () => {
    const text = WALL_AND_GLASS['cultivars.yaml']?.replace('Amber Lantern', 'Amber 提灯') ?? '';
    folder.lay('lantern', { ...WALL_AND_GLASS, 'cultivars.yaml': text });
    const warnings = printedBy(`
      import { openLedger, post } from 'pomary';
      const { ledger } = await openLedger('lantern');
      console.log(JSON.stringify((await post(ledger, { figuresFormat: 'png' })).warnings));
    `);
    expect(warnings).toContainEqual(expect.stringContaining('a PNG cannot show 提 灯'));
  });

  test('a figure is the one that the command draws', async () => {
    const svg = printedBy(`
      import { figure, openLedger } from 'pomary';
      const { ledger } = await openLedger('trial');
      console.log(JSON.stringify(await figure(ledger, 'weights', { crop: 'main' })));
    `);
    const { out } = await runOn(['figure', 'weights', '--crop', 'main'], WALL_AND_GLASS);
    expect(svg).toBe(out);
  });

  test('a figure can be had as PNG, and on a ground of choice', () => {
    const [head, dark] = printedBy(`
      import { figure, figurePng, openLedger } from 'pomary';
      const { ledger } = await openLedger('trial');
      const png = await figurePng(ledger, 'weights', { crop: 'main' });
      const svg = await figure(ledger, 'weights', { ground: 'dark' });
      console.log(JSON.stringify([[...png.subarray(0, 8)], svg.includes('#191c17')]));
    `) as readonly unknown[];
    // The signature of ISO/IEC 15948.
    expect([head, dark]).toEqual([[137, 80, 78, 71, 13, 10, 26, 10], true]);
  });

  test('a span of seasons is understood as the command line understands it', () => {
    const [span, years] = printedBy(`
      import { openLedger, weights } from 'pomary';
      const { ledger } = await openLedger('trial');
      const of = async (season) => weights(ledger, { season });
      console.log(JSON.stringify([await of('2025..2026'), await of([2025, 2026])]));
    `) as readonly unknown[];
    expect(span).toEqual(years);
  });
});

describe('a ledger is opened', () => {
  test('with everything that the check finds', () => {
    const given = printedBy(`
      import { openLedger } from 'pomary';
      const { ledger, diagnostics } = await openLedger('trial');
      const names = [...ledger.cultivars.values()].map(({ name }) => name);
      console.log(JSON.stringify({ title: ledger.trial.title, names, diagnostics }));
    `);
    expect(given).toMatchObject({
      title: 'Tidewrack Lane fig trial',
      names: ['Amber Lantern', 'Slate Quay'],
    });
    expect(given).toMatchObject({
      diagnostics: (printedByCommand('check') as { diagnostics: unknown }).diagnostics,
    });
  });

  test('but not one with errors, which come with their places', () => {
    folder.lay('broken', { 'ledger.yaml': 'title: 7\n' });
    const given = printedBy(`
      import { openLedger } from 'pomary';
      const { ledger, diagnostics } = await openLedger('broken');
      console.log(JSON.stringify({ has: ledger !== undefined, first: diagnostics.at(-1) }));
    `);
    expect(given).toMatchObject({ has: false, first: { severity: 'error' } });
    expect(given).toMatchObject({ first: { file: expect.any(String), line: expect.any(Number) } });
  });

  test('and what there is not is refused in plain words', () => {
    const given = printedBy(`
      import * as pomary from 'pomary';
      const { openLedger, rank, yields, changes, card, day } = pomary;
      const { ledger } = await openLedger('trial');
      const refused = [
        ${REFUSED.map(([call]) => `() => ${call},`).join('\n')}
      ];
      const given = [];
      for (const call of refused) {
        const error = await call().then(() => undefined, (thrown) => thrown);
        const kind = ['UsageError', 'FileFault'].find((name) => error instanceof pomary[name]);
        given.push({ kind, message: error?.message });
      }
      console.log(JSON.stringify(given));
    `);
    expect(given).toEqual(
      REFUSED.map(([, kind, words]) => ({ kind, message: expect.stringContaining(words) })),
    );
  });
});

const REFUSED: readonly (readonly [call: string, kind: string, words: string])[] = [
  ['openLedger("nowhere")', 'FileFault', 'it does not exist'],
  [
    'rank(ledger, { seasons: 2026 })',
    'UsageError',
    'seasons: no such option; did you mean season?',
  ],
  [
    'rank(ledger, { cultivar: "Amber Lanten" })',
    'UsageError',
    'cultivar Amber Lanten: no such cultivar; did you mean Amber Lantern?',
  ],
  ['rank(ledger, { sort: "weight" })', 'UsageError', 'there is no column "weight"'],
  ['rank(ledger, { confidence: 0.95 })', 'UsageError', 'confidence 0.95: write a percentage'],
  ['yields(ledger, { by: "branch" })', 'UsageError', 'by branch: rows are tree'],
  ['changes(ledger, { season: 2020 })', 'UsageError', 'there is no season 2020'],
  ['day(ledger, "2026-01-01")', 'UsageError', 'nothing was picked or tasted on 2026-01-01'],
  [
    'rank(ledger, { season: "2026..2024" })',
    'UsageError',
    'season 2026..2024: write a year, as 2026',
  ],
  ['pomary.figure(ledger, "pie")', 'UsageError', 'figure pie: the figures are ranks, ripening'],
  ['pomary.figure(ledger, "cultivar")', 'UsageError', 'name it'],
  [
    'pomary.figure(ledger, "weights", { ground: "pink" })',
    'UsageError',
    'ground pink: choose one of auto',
  ],
  ['pomary.post(ledger, { date: "2026-02-30" })', 'UsageError', 'date 2026-02-30: write a date'],
  ['card(ledger, "Ebb Violet")', 'UsageError', 'no such cultivar'],
  ['rank(ledger, { columns: "index" })', 'UsageError', 'columns: no such option'],
  ['rank(ledger, { explain: "yes" })', 'UsageError', 'explain yes: true or false'],
  ['rank(ledger, { seed: [1, 2] })', 'UsageError', 'seed: takes one value, not a list'],
  ['rank(ledger, { season: null })', 'UsageError', 'season null: takes text or a number'],
  ['rank(ledger, { today: "2026-13-01" })', 'UsageError', 'today 2026-13-01: write a date'],
  [
    'pomary.post(ledger, { format: "text" })',
    'UsageError',
    'format text: choose one of markdown, html',
  ],
  ['pomary.table(ledger, "pick")', 'UsageError', 'table pick: choose one of counts, picks'],
  [
    'pomary.lineup(ledger, { candidates: "Slate Kay" })',
    'UsageError',
    'candidates Slate Kay: no such cultivar; did you mean Slate Quay?',
  ],
  ['pomary.figure(ledger, "pool")', 'UsageError', 'a pool takes two gardens at least'],
  [
    'pomary.figure(ledger, "ranks", { pool: [ledger] })',
    'UsageError',
    'figure ranks draws one garden; figure pool draws several',
  ],
];

test('the types need no package, since none is installed along', () => {
  const types = fileURLToPath(new URL('../dist/types', import.meta.url));
  const files = readdirSync(types, { recursive: true, encoding: 'utf8' });
  const outside = files
    .filter((file) => file.endsWith('.d.ts'))
    .flatMap((file) =>
      [
        ...readFileSync(join(types, file), 'utf8').matchAll(
          /(?:from|import)\s*\(?\s*['"]([^.'"][^'"]*)/g,
        ),
      ].map(([, name]) => `${file} imports ${name}`),
    );
  expect(files.length).toBeGreaterThan(0);
  expect(outside).toEqual([]);
});

test('the types hold a program to what there is', { timeout: 120_000 }, () => {
  const said =
    folder.typed(`import { type Cell, type Ledger, openLedger, rank, type Reported, card, figure, lineup, pool, post, stability, verdict, yields } from 'pomary';

const { ledger, diagnostics } = await openLedger('trial');
// @ts-expect-error a ledger with errors is no ledger
const tooSoon: Ledger = ledger;
for (const { severity, file, line } of diagnostics) {
  const where: string = \`\${severity} \${file}:\${line.toFixed()}\`;
  where.trim();
}
if (ledger !== undefined) {
  const names: string[] = [...ledger.cultivars.values()].map(({ name }) => name);
  const report: Reported = await rank(ledger, { season: [2025, 2026], crop: 'main' });
  const cells: (Cell | undefined)[] = report.rows.map((row) => row['index']);
  const ranked = await rank(ledger, { season: '2025..2026' });
  const best: number | null | undefined = ranked.rows[0]?.index;
  const advice: 'increase' | 'retain' | 'watch' | 'discard' | undefined = (await verdict(ledger)).rows[0]?.verdict;
  const steadiest: number | null | undefined = (await stability(ledger)).rows[0]?.shukla;
  const { rows: pooled } = await pool(ledger, [ledger], { cover: ['open', 'glass'] });
  const beside: number | null | undefined = pooled[0]?.hereLow;
  const sheets = await lineup(ledger, { on: '2026-09-07', for: 'verdict' });
  [steadiest, beside, sheets.sections].length;
  const svg: string = await figure(ledger, 'weights', { crop: 'main' });
  const { markdown, figures } = await post(ledger, { tags: ['figs'], figuresUrl: '/figs' });
  [best, advice, svg, markdown, figures[0]?.svg].length;
  const page = await card(ledger, names[0] ?? '', { season: 2026 });
  page.sections['names'];
  await yields(ledger, { by: 'cultivar' });
  // @ts-expect-error there is no such option
  await rank(ledger, { seasons: 2026 });
  // @ts-expect-error rows are not branches
  await yields(ledger, { by: 'branch' });
  // @ts-expect-error a report is not changed
  report.rows = [];
  cells.length;
}
tooSoon;
`);
  expect(said).toBe('');
});
