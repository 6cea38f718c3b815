import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { VERDICTS, type Verdict } from '../src/judge/verdict/verdict.ts';
import { ROW_CELLS } from '../src/library/row-types.ts';
import { NEIGHBOURS, neighbourFiles } from './support/neighbour-files.ts';
import { runOn } from './support/run-on.ts';
import { WALL_AND_GLASS } from './support/wall-and-glass.ts';

// The built package as another program has it: installed in a folder of its own, imported by name.

const ROOT = fileURLToPath(new URL('..', import.meta.url));
let folder = '';

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'pomary-library-'));
  mkdirSync(join(folder, 'node_modules'));
  symlinkSync(ROOT, join(folder, 'node_modules/pomary'), 'dir');
  for (const [path, text] of Object.entries(WALL_AND_GLASS)) {
    mkdirSync(join(folder, 'trial/seasons'), { recursive: true });
    writeFileSync(join(folder, 'trial', path), text);
  }
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

function node(...args: readonly string[]) {
  const env = { PATH: process.env['PATH'] ?? '' };
  return spawnSync(process.execPath, args, { cwd: folder, env, encoding: 'utf8' });
}

/** What a small program prints as JSON. */
function printedBy(program: string): unknown {
  writeFileSync(join(folder, 'program.mjs'), program);
  const { stdout, stderr } = node('program.mjs');
  expect(stderr).toBe('');
  return JSON.parse(stdout);
}

function printedByCommand(...argv: readonly string[]): unknown {
  const { stdout, stderr } = node(
    `${ROOT}/bin/pomary.js`,
    '--ledger',
    'trial',
    ...argv,
    '--format',
    'json',
  );
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

test('several gardens give what the command prints, whatever order they are named in', () => {
  for (const [path, text] of Object.entries(neighbourFiles())) {
    mkdirSync(dirname(join(folder, 'gardens', path)), { recursive: true });
    writeFileSync(join(folder, 'gardens', path), text);
  }
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
  const { stdout } = node(
    ...[`${ROOT}/bin/pomary.js`, '--ledger', 'gardens/home', 'pool'],
    ...NEIGHBOURS.map((name) => `gardens/${name}`),
    ...[...options.split(' '), '--format', 'json'],
  );
  expect(given).toEqual(JSON.parse(stdout));
  expect(given).toHaveProperty('report', 'pool');
});

describe('the cells that the types promise are those of the report', () => {
  const argvOf: Readonly<Record<string, readonly string[]>> = {
    compare: ['compare', 'Salt Parson', 'Slate Quay'],
    pool: ['pool', '/trial/hill-foot', '/trial/quay-row', '/trial/mill-bend'],
  };
  const fits: Readonly<Record<string, (cell: unknown) => boolean>> = {
    name: (cell) => typeof cell === 'string',
    crop: (cell) => cell === 'early' || cell === 'main',
    verdict: (cell) => VERDICTS.includes(cell as Verdict),
    text: (cell) => cell === null || typeof cell === 'string',
    figure: (cell) => cell === null || typeof cell === 'number',
    flag: (cell) => cell === null || typeof cell === 'boolean',
    mixed: (cell) => cell === null || ['string', 'number'].includes(typeof cell),
  };
  // What an option adds, and the weighted parts of the ledger.
  const more: Readonly<Record<string, readonly string[]>> = {
    rank: ['sweetness', 'flavour', 'productivity', 'size', 'soundness'],
  };

  test.each(Object.entries(ROW_CELLS))('%s', async (report, kinds) => {
    const argv = argvOf[report] ?? [report];
    const ledger = ['--ledger', '/trial/home', '--format', 'json'];
    const { out } = await runOn([...argv, ...ledger], neighbourFiles());
    const { columns, rows } = JSON.parse(out) as {
      columns: readonly { key: string }[];
      rows: readonly Readonly<Record<string, unknown>>[];
    };
    const listed = Object.entries(kinds).flatMap(([kind, keys]) =>
      keys.split(' ').map((key) => ({ kind, key })),
    );
    const has = columns.map(({ key }) => key).filter((key) => !more[report]?.includes(key));
    expect(listed.map(({ key }) => key).toSorted()).toEqual(has.toSorted());
    expect(rows.length).toBeGreaterThan(0);
    const odd = listed.filter(({ kind, key }) => !rows.every((row) => fits[kind]?.(row[key])));
    expect(odd).toEqual([]);
  });
});

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
    mkdirSync(join(folder, 'broken'));
    writeFileSync(join(folder, 'broken/ledger.yaml'), 'title: 7\n');
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
  ['rank(ledger, { confidence: 0.95 })', 'UsageError', 'confidence 0.95: a percentage'],
  ['yields(ledger, { by: "branch" })', 'UsageError', 'by branch: rows are tree'],
  ['changes(ledger, { season: 2020 })', 'UsageError', 'there is no season 2020'],
  ['day(ledger, "2026-01-01")', 'UsageError', 'nothing was picked or tasted on 2026-01-01'],
  ['rank(ledger, { season: "2026..2024" })', 'UsageError', 'season 2026..2024: a year, as 2026'],
  ['pomary.figure(ledger, "pie")', 'UsageError', 'figure pie: the figures are ranks, ripening'],
  ['pomary.figure(ledger, "cultivar")', 'UsageError', 'name it'],
  [
    'pomary.figure(ledger, "weights", { ground: "pink" })',
    'UsageError',
    'ground pink: the grounds',
  ],
  ['pomary.post(ledger, { date: "2026-02-30" })', 'UsageError', 'today 2026-02-30'],
  ['card(ledger, "Ebb Violet")', 'UsageError', 'no such cultivar'],
];

test('the types hold a program to what there is', { timeout: 120_000 }, () => {
  writeFileSync(
    join(folder, 'program.mts'),
    `import { type Cell, type Ledger, openLedger, rank, type Reported, card, figure, lineup, pool, post, stability, verdict, yields } from 'pomary';

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
`,
  );
  const strict = ['--strict', '--noEmit', '--noPropertyAccessFromIndexSignature'];
  const module = ['--module', 'nodenext', '--target', 'es2023', '--types', ''];
  const tsc = join(ROOT, 'node_modules/typescript/bin/tsc');
  const { stdout, status } = node(tsc, ...strict, ...module, 'program.mts');
  expect(stdout).toBe('');
  expect(status).toBe(0);
});
