import { beforeAll, describe, expect, test } from 'vitest';
import { run } from '../src/cli/run.ts';
import { displayWidth } from '../src/source/display-width.ts';
import { exampleFiles } from './support/example-files.ts';
import { type Captured, memoryHost } from './support/memory-host.ts';
import { type Element, named, readMarkup } from './support/strict-markup.ts';

const MINUTES = 120_000;

/** Runs a command that must succeed in silence but for its output. */
async function ran(files: Record<string, string>, ...argv: readonly string[]): Promise<Captured> {
  const world = memoryHost({ files });
  const exit = await run(argv, world.host);
  expect({ exit, err: world.err() }).toEqual({ exit: 0, err: '' });
  return world;
}

function written(world: Captured, path: string): string {
  return String(world.files.get(`/trial/${path}`));
}

const HOSTILE = `<script>alert(1)</script> & "it's" | *#`;
const yaml = JSON.stringify(HOSTILE);

/** A small trial in which every text that may be printed is hostile. */
const hostileFiles = {
  'ledger.yaml': `title: ${yaml}
place: { name: ${yaml}, climate: ${yaml}, latitude: 52.1 }
fruit: fig
licence: ${yaml}
scale: { low: 1, high: 10 }
traits: [flavour]
tasters: { mara: ${yaml}, joss: Joss Under }
sites: { yard: { name: ${yaml}, cover: open } }
frost: { 2026: 2026-10-29 }
rank: { weights: { flavour: 1 } }
`,
  'cultivars.yaml': `one: { name: ${yaml}, bears: common, also: [${yaml}], protected: true }
two:
  name: Plain Quay
  bears: common
  perhaps: { same_as: one, why: ${yaml} }
`,
  'trees.yaml': `A: { cultivar: one, site: yard, planted: 2020, container: ground, rootstock: ${yaml} }
B: { cultivar: two, site: yard, received: 2021-03, container: "20 L" }
`,
  'seasons/2026.yaml': `season: 2026
counts:
  - { on: 2026-08-01, tree: A, crop: main, fruit: 10, branches: 4 }
  - { on: 2026-08-01, tree: B, crop: main, fruit: 8, branches: 4 }
picks:
  - { on: 2026-08-20, tree: A, crop: main, weights: [40, 42, 45, 47, 51, 60], split: 1 }
  - { on: 2026-08-25, tree: B, crop: main, weights: [30, 32] }
tastings:
  - on: 2026-08-20
    samples: [{ tree: A, crop: main }, { tree: B, crop: main }]
    scores:
      mara: { A: { flavour: 8 }, B: { flavour: 5 } }
      joss: { A: { flavour: 7 }, B: { flavour: 6 } }
  - on: 2026-08-25
    samples: [{ tree: A, crop: main }, { tree: B, crop: main }]
    scores:
      mara: { A: { flavour: 9 }, B: { flavour: 6 } }
      joss: { A: { flavour: 7 }, B: { flavour: 5 } }
`,
};

describe('a page of the example', () => {
  let page = '';
  let elements: readonly Element[] = [];

  beforeAll(async () => {
    const world = await ran(
      exampleFiles(),
      'post',
      '--full',
      '--format',
      'html',
      '--output',
      'post.html',
    );
    page = written(world, 'post.html');
    elements = readMarkup(page);
  }, MINUTES);

  test('headings stand in order: one of the first rank, none skipped', () => {
    const ranks = elements
      .filter(({ name }) => /^h[1-6]$/.test(name))
      .map(({ name }) => Number(name.slice(1)));
    expect(ranks[0]).toBe(1);
    expect(ranks.filter((rank) => rank === 1)).toHaveLength(1);
    for (const [at, rank] of ranks.entries()) {
      if (at > 0) expect(rank).toBeLessThanOrEqual((ranks[at - 1] ?? 0) + 1);
    }
  });

  test('every table has a caption, and headers with a scope', () => {
    const tables = named(elements, 'table').length;
    expect(tables).toBeGreaterThan(8);
    const captions = named(elements, 'caption');
    expect(captions).toHaveLength(tables);
    expect(captions.every(({ text }) => text.length > 10)).toBe(true);
    expect(named(elements, 'th').every(({ attributes }) => 'scope' in attributes)).toBe(true);
  });

  test('no two elements share an id, and every reference leads to one', () => {
    const ids = elements.flatMap(({ attributes }) => attributes['id'] ?? []);
    expect(new Set(ids).size).toBe(ids.length);
    const references = elements.flatMap(({ attributes }) =>
      ['aria-labelledby', 'aria-describedby'].flatMap((key) => attributes[key] ?? []),
    );
    expect(references.length).toBeGreaterThan(10);
    expect(ids).toEqual(expect.arrayContaining(references));
  });

  test('figures are inside, each with a role and a caption', () => {
    const drawn = named(elements, 'svg');
    expect(drawn).toHaveLength(5);
    expect(drawn.every(({ attributes }) => attributes['role'] === 'img')).toBe(true);
    const photos = elements.filter(({ attributes }) => attributes['class'] === 'photo');
    expect(named(elements, 'figcaption')).toHaveLength(5 + photos.length);
  });

  test('it runs nothing and asks nothing of anyone', () => {
    // Photos lie beside the page, in the folder that they have in the ledger.
    const photos = named(elements, 'img').map(({ attributes }) => attributes['src'] ?? '');
    expect(photos.every((src) => /^photos\/[a-z0-9-]+\.png$/.test(src))).toBe(true);
    const own = photos.reduce((text, src) => text.replace(`<img src="${src}"`, '<photo'), page);
    expect(own.replaceAll('xmlns="http://www.w3.org/2000/svg"', '')).not.toMatch(
      /<script|<link|<img|<iframe|<image|\ssrc=|href=|\son[a-z]+=|url\(|@import|https?:/,
    );
    expect(page).toContain("default-src 'none'");
  });

  test('it tells what a reader in the same climate needs', () => {
    const headings = named(elements, 'h2').map(({ text }) => text);
    expect(headings).toEqual([
      'Early crop (breba), under glass',
      'Early crop (breba), in the open',
      'Main crop, under glass',
      'Main crop, in the open',
      'What this rests on',
      'In short',
      'What did best',
      'What changed since 2025',
      'When it ripened',
      'How much, and how big',
      'What spoiled',
      'How it was grown',
      'Names in doubt',
      'How it was measured',
      'Before you act on this',
      'Licence',
    ]);
    const text = elements[0]?.text ?? '';
    expect(text).toContain('Old Wall Brown (?)');
    expect(text).toContain('What was seen and measured here is under CC0-1.0.');
    expect(text).not.toMatch(/NaN|Infinity|undefined|\[object/);
  });

  test('tasters are a number, not names', () => {
    expect(page).toContain('4 tasters');
    expect(page).not.toMatch(/\b(Mara|Joss|Odo|Wren)\b/);
  });
});

describe('Markdown of the example', () => {
  test(
    'front matter, sections, and figures linked from beside the post',
    async () => {
      const world = memoryHost({ files: { ...exampleFiles(), 'site/my figures/.keep': '' } });
      const argv = [
        'post',
        '--full',
        '--season',
        '2026',
        '--crop',
        'main',
        '--top',
        '3',
        '--tags',
        'figs, trial',
      ];
      const exit = await run(
        [...argv, '--figures', 'site/my figures', '--output', 'site/post.md'],
        world.host,
      );
      expect({ exit, err: world.err() }).toEqual({ exit: 0, err: '' });
      const text = written(world, 'site/post.md');
      expect(text).toMatch(
        /^---\ntitle: "Tidewrack Lane fig trial, 2026, main crop"\ndate: 2026-11-01\n/,
      );
      expect(text).toContain('\ntags: ["figs", "trial"]\n---\n');
      const links = [...text.matchAll(/!\[[^\n]*\]\(([^)\s]*)\)/g)].map(([, link = '']) => link);
      expect(links).toEqual([
        expect.stringMatching(/^my%20figures\/post-ranks-main-open-[0-9a-f]{8}\.svg$/),
        expect.stringMatching(/^my%20figures\/post-ranks-main-[0-9a-f]{8}\.svg$/),
        expect.stringMatching(/^my%20figures\/post-ripening-2026-main-[0-9a-f]{8}\.svg$/),
        expect.stringMatching(/^my%20figures\/post-weights-main-[0-9a-f]{8}\.svg$/),
      ]);
      for (const link of links) {
        const svg = written(world, `site/${decodeURIComponent(link)}`);
        expect(named(readMarkup(svg), 'title')).toHaveLength(1);
      }
      expect(text).toContain('The first 3 of ');
      expect(text).not.toMatch(/early crop was|Early crop \(breba\):/);
    },
    MINUTES,
  );

  test(
    'ranks are those of the rank table',
    async () => {
      const files = exampleFiles();
      const asked = ['--season', '2026', '--crop', 'main'];
      const post = (await ran(files, 'post', '--full', ...asked, '--front-matter', 'none')).out();
      const ranks = await ran(files, 'rank', ...asked, '--format', 'json');
      const { rows } = JSON.parse(ranks.out()) as {
        rows: Record<string, number | string | null>[];
      };
      const first = rows.find(({ rank }) => rank === 1);
      expect(first).toBeDefined();
      expect(post).toMatch(/^# Tidewrack Lane fig trial, 2026, main crop\n/);
      expect(post).toContain(
        `| 1 | ${first?.['cultivar']} | ${Number(first?.['index']).toFixed(1)} |`,
      );
    },
    MINUTES,
  );
});

describe('hostile text', () => {
  test(
    'in HTML it is text and nothing but text',
    async () => {
      const argv = [
        'post',
        '--full',
        '--format',
        'html',
        '--title',
        HOSTILE,
        '--tags',
        HOSTILE,
        '--name-tasters',
      ];
      const page = (await ran(hostileFiles, ...argv)).out();
      const elements = readMarkup(page);
      expect(named(elements, 'script')).toEqual([]);
      expect(named(elements, 'title')[0]?.text).toBe(HOSTILE);
      const holding = (name: string) =>
        named(elements, name).filter(({ text }) => text.includes('<script>'));
      for (const name of ['h1', 'th', 'td', 'li', 'p', 'text', 'desc']) {
        expect(holding(name).length, name).toBeGreaterThan(0);
      }
      const metas = named(elements, 'meta').map(({ attributes }) => attributes['content']);
      expect(metas).toContain(HOSTILE);
    },
    MINUTES,
  );

  test(
    'in Markdown every mark stands for itself',
    async () => {
      const text = (await ran(hostileFiles, 'post', '--full', '--title', HOSTILE)).out();
      const [, head = '', body = ''] = text.split(/^---$/m);
      expect(head).toContain(`title: ${yaml.replaceAll('<', '‹').replaceAll('>', '›')}`);
      expect(head).not.toMatch(/[<>{}]/);
      expect(body).not.toContain('<script');
      expect(body).toContain('&lt;script&gt;alert(1)&lt;/script&gt; &amp; "it\'s" \\| \\*\\#');
    },
    MINUTES,
  );

  test(
    'tasters are named by first name if asked for',
    async () => {
      const named = (await ran(hostileFiles, 'post', '--full', '--name-tasters')).out();
      const numbered = (await ran(hostileFiles, 'post', '--full')).out();
      expect(named).toMatch(/2 tasters \(Joss and .*\)/);
      expect(named).not.toContain('Under');
      expect(numbered).toContain('2 tasters gave');
      expect(numbered).not.toContain('Joss');
    },
    MINUTES,
  );
});

describe('figures', () => {
  test.each(['ranks', 'ripening', 'weights', 'cultivar'])(
    '%s of the example',
    async (kind) => {
      const more = kind === 'cultivar' ? ['--cultivar', 'Amber Lantern'] : ['--crop', 'main'];
      const world = await ran(exampleFiles(), 'figure', kind, ...more);
      const elements = readMarkup(world.out());
      expect(elements[0]?.name).toBe('svg');
      const told = named(elements, 'desc')[0]?.text ?? '';
      expect(told.length).toBeGreaterThan(100);
      expect(told).not.toMatch(/NaN|Infinity|undefined/);
    },
    MINUTES,
  );

  test(
    'the first rows only, into a file',
    async () => {
      const world = await ran(
        exampleFiles(),
        ...['figure', 'ranks', '--crop', 'main', '--top', '2', '--output', 'ranks.svg'],
      );
      expect(world.out()).toBe('');
      const names = named(readMarkup(written(world, 'ranks.svg')), 'text').filter(({ text }) =>
        /^\d+ +[A-Z]/.test(text),
      );
      expect(names).toHaveLength(2);
    },
    MINUTES,
  );
});

describe('a post in the forms that no site generator wants', () => {
  test(
    'text has its headings, tables and what its figures show, fitted to the width',
    async () => {
      const lines = (await ran(hostileFiles, 'post', '--full', '--format', 'text'))
        .out()
        .split('\n');
      expect(lines).toContain('In short');
      expect(lines.some((line) => /^- .*highest index|^- Main crop/.test(line))).toBe(true);
      expect(lines.some((line) => /^Rank {2}Cultivar/.test(line))).toBe(true);
      expect(lines.join(' ')).toMatch(/Index by cultivar, main crop:/);
      expect(Math.max(...lines.map((line) => displayWidth(line)))).toBeLessThanOrEqual(100);
    },
    MINUTES,
  );

  test(
    'JSON has its sections by key, and tables with all their digits',
    async () => {
      const post = JSON.parse((await ran(hostileFiles, 'post', '--format', 'json')).out());
      expect(post).toMatchObject({ report: 'post', tags: [], notes: [] });
      expect(post.description).toMatch(/compared on/);
      expect(Object.keys(post.sections)).toEqual(expect.arrayContaining(['inShort', 'ranks']));
      const blocks: readonly { kind: string; rows?: readonly Record<string, unknown>[] }[] =
        post.sections.ranks.blocks;
      const ranks = blocks.find(({ kind }) => kind === 'table');
      expect(ranks?.rows?.[0]).toMatchObject({ rank: 1 });
      expect(String(ranks?.rows?.[0]?.['index'])).toMatch(/\.\d{4,}/);
    },
    MINUTES,
  );
});

describe('what cannot be done is said', () => {
  test.each([
    [['figure', 'pie'], /choose one of ranks, ripening, weights, cultivar/],
    [['figure', 'cultivar'], /name it with --cultivar/],
    [['figure', 'ranks', '--crop', 'early'], /nothing to draw/],
    [['post', '--date', '2026-02-30'], /write a date as YYYY-MM-DD/],
    [['post', '--figures', 'nowhere'], /there is no such folder/],
    [['post', '--format', 'csv'], /choose one of markdown, html, text, json/],
  ])('%j', async (argv, words) => {
    const world = memoryHost({ files: hostileFiles });
    expect(await run(argv, world.host)).toBe(2);
    expect(world.err()).toMatch(words);
    expect(world.out()).toBe('');
  });

  test('a selection without entries gives a post that says why', async () => {
    const text = (await ran(hostileFiles, 'post', '--crop', 'early')).out();
    expect(text).toContain('## Nothing to report\n\nNo counts, picks or drops for the early crop.');
  });
});
