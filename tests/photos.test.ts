import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, symlinkSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import type { Host } from '../src/cli/host.ts';
import { run } from '../src/cli/run.ts';
import { nodeHost } from '../src/host/node-host.ts';
import { layFiles } from './support/lay-files.ts';
import { readMarkup } from './support/strict-markup.ts';

/** The smallest PNG there is: one pixel. */
const PIXEL = Buffer.from(
  'iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAAAAAA6fptVAAAACklEQVR4nGNiAAAABgADNjd8qAAAAABJRU5ErkJggg==',
  'base64',
);

let root = '';
beforeEach(() => {
  root = mkdtempSync(join(tmpdir(), 'pomary-photos-'));
});
afterEach(() => rmSync(root, { recursive: true, force: true }));

/** A ledger with one plate that has a photo, beside a folder of pages and a private picture. */
function lay(photo: string) {
  layFiles(join(root, 'trial'), {
    'ledger.yaml': `title: T
fruit: plum
traits: [flavour]
tasters: { ann: Ann }
sites: { wall: { name: wall, cover: open } }
`,
    'cultivars.yaml': 'alder: { name: "Alder <b>", bears: main }\n',
    'trees.yaml': 'A1: { cultivar: alder, site: wall }\n',
    'seasons/2026.yaml': `season: 2026
tastings:
  - on: 2026-08-20
    samples: [{ tree: A1, crop: main, photo: ${JSON.stringify(photo)} }]
    scores: { ann: { A1: { flavour: 7 } } }
`,
    'photos/a1.png': PIXEL,
    'photos/with blank & (marks).png': PIXEL,
    'photos/notes.txt': 'who may read this?',
  });
  layFiles(root, { 'private.png': PIXEL });
  mkdirSync(join(root, 'pages'));
}

async function ran(argv: readonly string[], cwd = join(root, 'trial')) {
  const said = { out: '', err: '' };
  const stream = (key: 'out' | 'err') => ({
    ...{ isTTY: false, columns: 80, colorDepth: 1 },
    write: (text: string) => {
      said[key] += text;
    },
  });
  const host: Host = { ...nodeHost(), cwd, env: {}, stdout: stream('out'), stderr: stream('err') };
  const status = await run(argv, host);
  return { status, ...said };
}

const ALT = 'Alder <b>, main crop of A1, as tasted on 20 August 2026';

describe('a photo of the ledger', () => {
  test('is copied beside the page, and shown with what is seen on it', async () => {
    lay('photos/a1.png');
    const { status, err } = await ran(['day', '--output', '../pages/day.html']);
    expect([status, err]).toEqual([0, '']);
    const page = readFileSync(join(root, 'pages/day.html'), 'utf8');
    const elements = readMarkup(page);
    const [picture] = elements.filter(({ name }) => name === 'img');
    expect(picture?.attributes).toEqual({ src: 'photos/a1.png', alt: ALT });
    // Those who see the picture read what it is as well.
    expect(elements.find(({ name }) => name === 'figcaption')?.text).toBe(`${ALT}.`);
    expect(readFileSync(join(root, 'pages/photos/a1.png'))).toEqual(PIXEL);
    expect(page).toContain("img-src 'self'");
  });

  test('is linked where it lies, where the page goes to the screen or into the ledger', async () => {
    lay('photos/a1.png');
    const shown = await ran(['day', '--format', 'markdown']);
    expect(shown.out).toContain('](photos/a1.png)');
    const elsewhere = await ran(['--ledger', 'trial', 'day', '--format', 'html'], root);
    expect(elsewhere.out).toContain('src="trial/photos/a1.png"');
    await ran(['card', 'alder', '--output', 'card.md']);
    expect(readFileSync(join(root, 'trial/card.md'), 'utf8')).toContain(
      '![Alder &lt;b&gt;, main crop of A1, as tasted on 20 August 2026](photos/a1.png)',
    );
    expect(readdirSync(join(root, 'trial/photos'))).toHaveLength(3);
  });

  test('may have a name that is none for links', async () => {
    lay('photos/with blank & (marks).png');
    await ran(['day', '--output', '../pages/day.md']);
    expect(readFileSync(join(root, 'pages/day.md'), 'utf8')).toContain(
      '](photos/with%20blank%20%26%20%28marks%29.png)',
    );
  });

  test('never takes the place of another picture of the same name', async () => {
    lay('photos/a1.png');
    layFiles(root, { 'pages/photos/a1.png': 'another' });
    await ran(['day', '--output', '../pages/day.html']);
    await ran(['day', '--output', '../pages/day.html']);
    expect(readFileSync(join(root, 'pages/photos/a1.png'), 'utf8')).toBe('another');
    const others = readdirSync(join(root, 'pages/photos')).filter((name) => name !== 'a1.png');
    expect(others).toEqual([expect.stringMatching(/^a1-[0-9a-f]{8}\.png$/)]);
    expect(readFileSync(join(root, 'pages/day.html'), 'utf8')).toContain(`photos/${others[0]}`);
  });

  test('is named in text, and told with its day on a card for programs', async () => {
    lay('photos/a1.png');
    expect((await ran(['day'])).out).toContain('Photo: photos/a1.png');
    const card = JSON.parse((await ran(['card', 'alder', '--format', 'json'])).out);
    expect(card.sections.photos).toEqual([
      { path: 'photos/a1.png', on: '2026-08-20', crop: 'main', what: 'plate', tree: 'A1' },
    ]);
  });
});

describe('what is no photo of the ledger is never passed on', () => {
  const nothing = () => {
    const page = readFileSync(join(root, 'pages/day.html'), 'utf8');
    expect(page).not.toMatch(/<img|private|img-src/);
    expect(readdirSync(join(root, 'pages'))).toEqual(['day.html']);
  };

  test.each([
    '../private.png',
    'photos/../../private.png',
    '..\\private.png',
    '/etc/hostname.png',
    'file:///etc/hostname.png',
    'https://example.org/spy.png',
    'data:image/png;base64,AAAA',
    'C:\\private.png',
    '~/private.png',
  ])('%s', async (photo) => {
    lay(photo);
    const { status } = await ran(['day', '--output', '../pages/day.html']);
    expect(status).toBe(0);
    nothing();
    for (const format of ['text', 'json', 'markdown']) {
      expect((await ran(['day', '--format', format])).out).not.toContain('private');
    }
  });

  test('a link that leads out of the folder', async () => {
    lay('photos/out.png');
    symlinkSync(join(root, 'private.png'), join(root, 'trial/photos/out.png'));
    const { err } = await ran(['day', '--output', '../pages/day.html']);
    expect(err).toContain('the photo photos/out.png does not lie inside the ledger');
    nothing();
  });

  test('a folder that is a link out of the ledger', async () => {
    lay('away/private.png');
    symlinkSync(root, join(root, 'trial/away'));
    const { err } = await ran(['day', '--output', '../pages/day.html']);
    expect(err).toContain('the photo away/private.png does not lie inside the ledger');
    nothing();
  });

  test('a file that is no picture', async () => {
    lay('photos/notes.txt');
    const { err } = await ran(['day', '--output', '../pages/day.html']);
    expect(err).toContain('photos/notes.txt is left out');
    nothing();
  });

  test('one that is not there, in the words of the check', async () => {
    lay('photos/gone.png');
    const { status, err } = await ran(['day', '--output', '../pages/day.html']);
    expect([status, err]).toEqual([
      0,
      'pomary: there is no picture photos/gone.png in the ledger\n',
    ]);
    nothing();
    expect((await ran(['check'])).out).toContain(
      'there is no picture photos/gone.png in the ledger',
    );
  });
});

test('a page that cannot be written leaves no photo behind', async () => {
  lay('photos/a1.png');
  const { status, err } = await ran(['day', '--output', '../nowhere/day.html']);
  expect(status).toBe(3);
  expect(err).toContain('nowhere');
  expect(readdirSync(root).sort()).toEqual(['pages', 'private.png', 'trial']);
});
