import { beforeAll, describe, expect, it } from 'vitest';
import { run } from '../src/cli/run.ts';
import { exampleFiles } from './support/example-files.ts';
import { memoryHost } from './support/memory-host.ts';
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
