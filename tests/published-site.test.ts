import { execFileSync } from 'node:child_process';
import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join, relative } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { run } from '../src/cli/run.ts';
import { nodeHost } from '../src/host/node-host.ts';
import { layFiles } from './support/lay-files.ts';
import { WALL_AND_GLASS } from './support/wall-and-glass.ts';

// A site made by Eleventy 3, a static site generator for any kind of site, from what `post --into` writes: do its
// links lead somewhere, are its pictures there, is the front matter read?

const ELEVENTY = fileURLToPath(new URL('../node_modules/@11ty/eleventy/cmd.cjs', import.meta.url));
const SLUG = 'tidewrack-lane-fig-trial-2025-to-2026';

/** The smallest PNG there is: one pixel. */
const PIXEL = Buffer.from(
  'iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAAAAAA6fptVAAAACklEQVR4nGNiAAAABgADNjd8qAAAAABJRU5ErkJggg==',
  'base64',
);

/** What the person who keeps the site has written. */
const SITE = {
  'eleventy.config.mjs': `export default (site) => {
  site.addPassthroughCopy('pages/**/*.{svg,png,jpg}');
  return { dir: { input: 'pages', output: 'built' } };
};
`,
  'pages/_includes/page.njk': `<!doctype html>
<html lang="{{ lang }}">
<head>
<title>{{ title }}</title>
<meta name="description" content="{{ description }}">
<meta property="og:image" content="{{ image }}">
</head>
<body>
<h1>{{ title }}</h1>
<p class="tags">{{ tags | join(", ") }}</p>
{{ content | safe }}
</body>
</html>
`,
};

let root = '';
let said = '';

beforeAll(async () => {
  root = mkdtempSync(join(tmpdir(), 'pomary-site-'));
  layFiles(root, SITE);
  const ledger = {
    ...WALL_AND_GLASS,
    'ledger.yaml': `${WALL_AND_GLASS['ledger.yaml']}front: { layout: page.njk, lang: en }\n`,
    'cultivars.yaml': String(WALL_AND_GLASS['cultivars.yaml']).replace(
      'name: Slate Quay',
      `name: 'Slate "Quay" & {{ co }} <b>'`,
    ),
    'seasons/2026.yaml': String(WALL_AND_GLASS['seasons/2026.yaml']).replace(
      'weights: [60, 62] }',
      'weights: [60, 62], photo: photos/a1 (cut).png }',
    ),
    'photos/a1 (cut).png': PIXEL,
  };
  layFiles(join(root, 'trial'), ledger);
  mkdirSync(join(root, 'pages/posts'), { recursive: true });
  const stream = {
    ...{ isTTY: false, columns: 80, colorDepth: 1 },
    write: (text: string) => {
      said += text;
    },
  };
  const host = { ...nodeHost(), cwd: root, env: {}, stdout: stream, stderr: stream };
  const argv = ['--ledger', 'trial', 'post', '--into', 'pages/posts', '--tags', 'figs,höhe & more'];
  expect(await run([...argv, '--date', '2026-11-28'], host), said).toBe(0);
  expect(said).toMatch(/^[^\n]+: written to pages\/posts\/[a-z0-9-]+\/index\.md\n$/);
  execFileSync(process.execPath, [ELEVENTY, '--quiet'], { cwd: root, encoding: 'utf8' });
});
afterAll(() => rmSync(root, { recursive: true, force: true }));

const built = () => join(root, 'built');
const page = (path: string) => readFileSync(join(built(), path), 'utf8');

function pagesBelow(folder: string): readonly string[] {
  return readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .map((path) => join(folder, path))
    .filter((path) => path.endsWith('.html'));
}

/** Every link, picture and preview of the site that leads to nothing, with its page. */
function broken(): readonly string[] {
  return pagesBelow(built()).flatMap((file) => {
    const at = new URL(
      `http://site.example/${relative(built(), dirname(file)).replaceAll('\\', '/')}/`,
    );
    return linksIn(readFileSync(file, 'utf8'))
      .map((link) => new URL(link, at))
      .filter((url) => url.host !== 'site.example' || !leads(decodeURIComponent(url.pathname)))
      .map((url) => `${relative(built(), file)} -> ${url.href}`);
  });
}

function linksIn(html: string): readonly string[] {
  const found = [
    ...html.matchAll(/\s(?:href|src)="([^"]*)"/g),
    ...html.matchAll(/og:image" content="([^"]+)"/g),
  ];
  return found.map(([, link = '']) => link.replaceAll('&amp;', '&'));
}

/** Whether a server would have a file for it, or for a folder the page of that folder. */
function leads(path: string): boolean {
  const file = join(built(), path);
  if (!existsSync(file)) return false;
  return !statSync(file).isDirectory() || existsSync(join(file, 'index.html'));
}

describe('a site that is built from a post', () => {
  test('has the post and a card for each cultivar as pages, and no link that leads to nothing', () => {
    expect(
      pagesBelow(built())
        .map((path) => relative(built(), path))
        .toSorted(),
    ).toEqual([
      `posts/${SLUG}/amber-lantern/index.html`,
      `posts/${SLUG}/index.html`,
      `posts/${SLUG}/slate-quay/index.html`,
    ]);
    expect(broken()).toEqual([]);
  });

  test('shows its figure and its photo, and leads to each card', () => {
    const links = linksIn(page(`posts/${SLUG}/index.html`));
    expect(links.filter((link) => link.endsWith('.svg')).length).toBeGreaterThan(0);
    expect(links).toEqual(expect.arrayContaining(['amber-lantern/', 'slate-quay/']));
    const photo = linksIn(page(`posts/${SLUG}/amber-lantern/index.html`)).find((link) =>
      link.endsWith('.png'),
    );
    expect(photo).toBe('../photos/a1%20%28cut%29.png');
    expect(readFileSync(join(built(), 'posts', SLUG, 'photos/a1 (cut).png'))).toEqual(PIXEL);
  });

  test('has read the front matter: title, description, tags, picture, and the keys of the ledger', () => {
    const text = page(`posts/${SLUG}/index.html`);
    expect(text).toContain('<html lang="en">');
    expect(text).toContain('<h1>Tidewrack Lane fig trial, 2025 to 2026</h1>');
    expect(text).toMatch(/<meta name="description" content="[^"]*2 cultivars compared on [^"]*">/);
    expect(text).toContain('<p class="tags">figs, höhe &amp; more</p>');
    expect(text).toMatch(/og:image" content="[^"]+\.(?:svg|png)"/);
    expect(text).not.toMatch(/^---$|^layout:/m);
  });

  test('has tables as tables, and names letter by letter', () => {
    const text = page(`posts/${SLUG}/index.html`);
    expect(text).toMatch(/<table>[\s\S]*Amber Lantern[\s\S]*<\/table>/);
    expect(text).not.toMatch(/\|\s*-{3}/);
    expect(text).toContain('Slate &quot;Quay&quot; &amp; {{ co }} &lt;b&gt;');
    expect(text).not.toContain('<b>');
  });

  // Else the first test could not fail.
  test('would be found broken where a picture were missing', () => {
    const folder = join(built(), 'posts', SLUG);
    const [figure = ''] = readdirSync(folder).filter((name) => name.endsWith('.svg'));
    const bytes = readFileSync(join(folder, figure));
    rmSync(join(folder, figure));
    // The figure itself, and the preview that names it.
    const missing = expect.stringContaining(figure);
    expect(broken()).toEqual([missing, missing]);
    writeFileSync(join(folder, figure), bytes);
  });
});
