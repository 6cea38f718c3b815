import { beforeAll, describe, expect, it } from 'vitest';
import { run } from '../src/cli/run.ts';
import { address } from '../src/render/pictures.ts';
import { exampleFiles } from './support/example-files.ts';
import { memoryHost } from './support/memory-host.ts';
import { readPng } from './support/read-png.ts';
import { named, readMarkup } from './support/strict-markup.ts';

const MINUTES = 120_000;

async function printed(...argv: readonly string[]): Promise<string> {
  const world = memoryHost({ files: exampleFiles() });
  const exit = await run(argv, world.host);
  expect({ exit, err: world.err() }).toEqual({ exit: 0, err: '' });
  return world.out();
}

function wordsIn(text: string): number {
  return text.match(/[\p{L}\p{N}][\p{L}\p{N}'’.–-]*/gu)?.length ?? 0;
}

interface Verdict {
  readonly cultivar: string;
  readonly crop: string;
  readonly cover: string | null;
  readonly verdict: string;
}

describe('the post of the example, as an article', () => {
  let text = '';
  let body = '';
  let verdicts: readonly Verdict[] = [];

  beforeAll(async () => {
    text = await printed('post');
    body = text.split('---\n').slice(2).join('---\n');
    const json = await printed('verdict', '--by', 'cover', '--format', 'json');
    verdicts = (JSON.parse(json) as { rows: Verdict[] }).rows;
  }, MINUTES);

  /** The names under a heading of the article, of a crop and cover. */
  function under(place: string, heading: string): string {
    const section = body.split('\n## ').find((one) => one.startsWith(`${place}\n`)) ?? '';
    return section.split('\n### ').find((one) => one.startsWith(`${heading}\n`)) ?? '';
  }

  it('begins with where, for how long and what, before any figure of statistics', () => {
    expect(body).toMatch(
      /^\nSeventeen fig cultivars have stood at Tidewrack Lane \(52° N, cool maritime, no fig wasp\) for three seasons, 2024 to 2026: /,
    );
  });

  it(
    'of one season tells what all of them say to plant, and that the rest is of that one alone',
    async () => {
      const answer = /What we would plant: (?<what>[^.]+)\./.exec(body)?.groups?.['what'] ?? '';
      const one = (await printed('post', '--season', '2026')).split('---\n').slice(2).join('');
      const [lead = ''] = one.split('\n## ');
      expect(lead).toMatch(/ in 2026: [^.]+ trees? /);
      expect(lead).not.toMatch(/have stood|Nothing is proven/);
      expect(lead).toContain(
        `What we would plant, by all three seasons, 2024 to 2026: ${answer}. What follows rests on 2026 alone.`,
      );
    },
    MINUTES,
  );

  it('says of each crop and cover what the verdicts say, in the same four words', () => {
    const headings = { increase: 'Worth planting', retain: 'Good here', discard: 'Not here' };
    const places = {
      'early glass': 'Early crop (breba), under glass',
      'early open': 'Early crop (breba), in the open',
      'main glass': 'Main crop, under glass',
      'main open': 'Main crop, in the open',
    };
    let told = 0;
    for (const { cultivar, crop, cover, verdict } of verdicts) {
      const place = places[`${crop} ${cover}` as keyof typeof places];
      const heading = headings[verdict as keyof typeof headings];
      if (place === undefined || heading === undefined) continue;
      expect(under(place, heading).replaceAll('\\', ''), `${cultivar}, ${place}`).toContain(
        `**${cultivar}`,
      );
      told++;
    }
    expect(told).toBeGreaterThan(4);
    const article = body.slice(0, body.indexOf('## What this rests on'));
    expect(article.match(/^### /gm)?.length).toBeGreaterThan(6);
    expect(
      article.match(/^### (?!Worth planting$|Good here$|Still being watched$|Not here$).*/gm),
    ).toEqual(null);
  });

  it('is short: at most 400 words before the first table, and 2,200 in all', () => {
    const before = wordsIn(body.slice(0, body.indexOf('\n| ')));
    expect(before).toBeGreaterThanOrEqual(60);
    expect(before).toBeLessThanOrEqual(400);
    expect(wordsIn(body)).toBeLessThan(2200);
  });

  it('has tables of at most six columns', () => {
    const heads = body.split('\n').filter((line) => line.startsWith('| Cultivar'));
    expect(heads.length).toBeGreaterThan(3);
    for (const head of heads) expect(head.split('|').length - 2).toBeLessThanOrEqual(6);
  });

  it('writes days as people say them', () => {
    expect(body).toMatch(/half picked by \d+ (July|August|September)/);
    // In a table as well.
    expect(body).toMatch(/ \| \d+ (July|August|September) \| /);
    expect(body).not.toMatch(/\d{4}-\d\d-\d\d/);
  });

  it('has the cautions, once each, before the figures', () => {
    const cautions = body.indexOf('## Before you act on this');
    expect(cautions).toBeGreaterThan(0);
    expect(cautions).toBeLessThan(body.indexOf('## The figures'));
    for (const word of ['Fig sap burns', 'mouldy', 'ladders', "breeders' rights", 'Local rules']) {
      expect(body.split(word)).toHaveLength(2);
    }
  });

  it('names what is worth planting in its description and its share preview', async () => {
    const description = /^description: "(.*)"$/m.exec(text)?.[1] ?? '';
    const best = verdicts.filter(({ verdict }) => verdict === 'increase');
    expect(best.length).toBeGreaterThan(0);
    for (const { cultivar } of best) expect(description).toContain(cultivar);
    const elements = readMarkup(await printed('post', '--format', 'html'));
    const meta = named(elements, 'meta').map(({ attributes }) => attributes);
    const ofProperty = (property: string) =>
      meta.find((one) => one['property'] === property)?.['content'];
    expect(ofProperty('og:description')).toBe(description);
    expect(ofProperty('og:title')).toBe('Tidewrack Lane fig trial, 2024 to 2026');
  });
});

describe('pictures of a post', () => {
  it(
    'are photos of what is good here, with what is seen on them, and one figure',
    async () => {
      const world = memoryHost({ files: { ...exampleFiles(), 'site/figures/.keep': '' } });
      const argv = ['post', '--figures', 'site/figures', '--figures-url', '/assets/figs/'];
      expect(await run([...argv, '--output', 'site/post.md'], world.host)).toBe(0);
      const text = String(world.files.get('/trial/site/post.md'));
      const links = [...text.matchAll(/!\[([^\n]*)\]\(([^)\s]*)\)/g)];
      const photos = links.filter(([, , link = '']) => link.startsWith('photos/'));
      expect(photos.length).toBeGreaterThan(0);
      for (const [, alt, link = ''] of photos) {
        expect(alt).toMatch(/^[A-Z].* on \d+ [A-Z][a-z]+ 20\d\d$/);
        expect(world.files.has(`/trial/site/${link}`)).toBe(true);
      }
      const figures = links.filter(([, , link = '']) => link.startsWith('/assets/figs/'));
      expect(figures).toHaveLength(1);
      const [[, , link = ''] = []] = figures;
      expect(world.files.has(`/trial/site/figures/${link.split('/').at(-1)}`)).toBe(true);
    },
    MINUTES,
  );

  it(
    'need a folder before they have an address',
    async () => {
      const world = memoryHost({ files: exampleFiles() });
      expect(await run(['post', '--figures-url', '/assets'], world.host)).toBe(2);
      expect(world.err()).toContain('--figures-url goes with --figures');
    },
    MINUTES,
  );

  it('may lie on another host', () => {
    expect(address('https://example.org/a b/c.svg')).toBe('https://example.org/a%20b/c.svg');
    expect(address('a:b/c (1).svg')).toBe('a%3Ab/c%20%281%29.svg');
  });
});

it(
  'takes what a site generator asks for from the ledger',
  async () => {
    const files = exampleFiles();
    files['ledger.yaml'] += 'front: { layout: post, lang: en, pubDate: 2026-11-28, toc: false }\n';
    const world = memoryHost({ files });
    expect({ exit: await run(['post'], world.host), err: world.err() }).toEqual({
      exit: 0,
      err: '',
    });
    const [, head = ''] = world.out().split(/^---$/m);
    expect(head).toContain('\nlayout: "post"\nlang: "en"\npubDate: "2026-11-28"\ntoc: false\n');
  },
  MINUTES,
);

describe('a post in a folder of its own', () => {
  const slug = 'tidewrack-lane-fig-trial-2026-main-crop';
  const argv = ['post', '--season', '2026', '--crop', 'main', '--into', 'site'];

  it(
    'has its page, its figure and its photos there, and is made again in the same place',
    async () => {
      const world = memoryHost({ files: exampleFiles() });
      for (const _ of [1, 2]) {
        const exit = await run(argv, world.host);
        expect({ exit, err: world.err() }).toEqual({ exit: 0, err: '' });
        expect(world.out()).toMatch(new RegExp(`: written to site/${slug}/index\\.md\n$`));
      }
      const text = String(world.files.get(`/trial/site/${slug}/index.md`));
      const links = [...text.matchAll(/!\[[^\n]*\]\(([^)\s]*)\)/g)].map(([, link = '']) => link);
      expect(links.some((link) => link.endsWith('.svg'))).toBe(true);
      for (const link of links) expect(world.files.has(`/trial/site/${slug}/${link}`)).toBe(true);
      const photos: (string | undefined)[] = [];
      const cards = [...text.matchAll(/\]\(([a-z0-9-]+)\/\)/g)].map(([, card]) => card);
      expect(new Set(cards).size).toBeGreaterThan(10);
      // What is said most is said in one word, not for every crop and place.
      expect(text).not.toMatch(/still being watched for [^.;\n]* and /i);
      for (const card of cards) {
        const page = String(world.files.get(`/trial/site/${slug}/${card}/index.md`));
        expect(page).toMatch(/^---\ntitle: "[^"]+, 2026"\n/);
        const shown = [...page.matchAll(/!\[[^\n]*\]\(\.\.\/([^)\s]*)\)/g)].map(([, link]) => link);
        for (const link of shown) expect(world.files.has(`/trial/site/${slug}/${link}`)).toBe(true);
        photos.push(...shown.filter((link) => link !== undefined && !links.includes(link)));
      }
      const written = [...world.files.keys()].filter((path) => path.startsWith('/trial/site/'));
      const cardPages = new Set(cards).size;
      expect(written).toHaveLength(links.length + new Set(photos).size + cardPages + 1);
    },
    MINUTES,
  );

  it(
    'is HTML as files that lead to each other, with pictures of dots, in the dark, named for previews',
    async () => {
      const world = memoryHost({ files: exampleFiles() });
      const more = ['--format', 'html', '--figures-format', 'png', '--ground', 'dark'];
      const url = ['--figures-url', 'https://example.org/figs/'];
      const exit = await run([...argv, ...more, ...url], world.host);
      expect({ exit, err: world.err() }).toEqual({ exit: 0, err: '' });
      const page = String(world.files.get(`/trial/site/${slug}/index.html`));
      const cards = [...page.matchAll(/<a href="([a-z0-9-]+\.html)"/g)].map(([, card]) => card);
      expect(new Set(cards).size).toBeGreaterThan(10);
      for (const card of cards) {
        const text = String(world.files.get(`/trial/site/${slug}/${card}`));
        expect(text).toContain('<!doctype html>');
        expect(text).toContain('color-scheme: dark;');
      }
      const preview = /property="og:image" content="https:\/\/example\.org\/figs\/([^"]+)"/.exec(
        page,
      );
      expect(world.files.has(`/trial/site/${slug}/${preview?.[1]}`)).toBe(true);
      expect(page).toMatch(/property="og:image:alt" content="[^"]{20,}"/);
      // The cards have photos, too, at the same place.
      const previews = cards.flatMap((card) => {
        const text = String(world.files.get(`/trial/site/${slug}/${card}`));
        return [...text.matchAll(/property="og:image" content="([^"]*)"/g)].map(([, url]) => url);
      });
      expect(previews.length).toBeGreaterThan(0);
      for (const url of previews) {
        expect(url).toMatch(/^https:\/\/example\.org\/figs\/photos\/[a-z-]+\.png$/);
      }
      const drawn = [...world.files].filter(([path]) => /ranks[^/]*\.png$/.test(path));
      expect(drawn.length).toBeGreaterThan(0);
      for (const [, bytes] of drawn) {
        expect(readPng(bytes as Uint8Array).at(1, 1)).toEqual([0x19, 0x1c, 0x17, 255]);
      }
    },
    MINUTES,
  );

  it(
    "never takes another post's place",
    async () => {
      const path = `site/${slug}/index.md`;
      const world = memoryHost({ files: { ...exampleFiles(), [path]: 'mine\n' } });
      expect(await run(argv, world.host)).toBe(2);
      expect(world.err()).toContain('another --title or --into');
      expect(String(world.files.get(`/trial/${path}`))).toBe('mine\n');
      expect([...world.files.keys()].filter((one) => one.startsWith('/trial/site/'))).toHaveLength(
        1,
      );
    },
    MINUTES,
  );

  it(
    'never takes the place of a card that is there already',
    async () => {
      const path = `site/${slug}/slate-quay/index.md`;
      const world = memoryHost({ files: { ...exampleFiles(), [path]: 'mine\n' } });
      expect(await run(argv, world.host)).toBe(2);
      expect(world.err()).toContain('slate-quay/index.md is of another post');
      expect([...world.files.keys()].filter((one) => one.startsWith('/trial/site/'))).toEqual([
        `/trial/${path}`,
      ]);
    },
    MINUTES,
  );

  it(
    'names its files itself',
    async () => {
      const world = memoryHost({ files: exampleFiles() });
      expect(await run([...argv, '--output', 'a.md'], world.host)).toBe(2);
      expect(world.err()).toContain('leave out --output');
    },
    MINUTES,
  );
});
