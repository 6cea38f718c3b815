import { expect, test } from 'vitest';
import { drawnFigure, type FigureWish } from '../src/cli/drawn-figure.ts';
import { figureSvg } from '../src/render/figure-svg.ts';
import type { Figure } from '../src/report/figures/figure.ts';
import { figureSamples, ranksSample } from './support/figure-samples.ts';
import { memoryHost } from './support/memory-host.ts';
import { type ReadPng, readPng } from './support/read-png.ts';
import { named, readMarkup } from './support/strict-markup.ts';

async function drawn(figure: Figure, wish: Omit<FigureWish, 'format'> = {}) {
  const { host, err } = memoryHost({ files: {} });
  const bytes = await drawnFigure(host, figure, { format: 'png', ...wish });
  if (typeof bytes === 'string') throw new Error('a PNG is bytes');
  return { bytes, png: readPng(bytes), err: err() };
}

/** Pixels of the upper left, where the title stands, that are not of the ground. */
function marked(png: ReadPng): number {
  const ground = png.at(0, 0).join();
  let count = 0;
  for (let y = 0; y < 60; y++)
    for (let x = 0; x < 240; x++) if (png.at(x, y).join() !== ground) count++;
  return count;
}

test.each(figureSamples().map((figure) => [figure.kind, figure] as const))(
  '%s: two pixels for each of the SVG, with its words in it',
  async (_, figure) => {
    const [svg] = readMarkup(await figureSvg(figure, 'file'));
    const { png, err } = await drawn(figure);
    expect([png.width, png.height]).toEqual([
      2 * Number(svg?.attributes['width']),
      2 * Number(svg?.attributes['height']),
    ]);
    // 192 dots to an inch of 0.0254 m.
    expect(png.density).toBe(Math.round(192 / 0.0254));
    expect([...png.words]).toEqual([
      ['Title', figure.title],
      ['Description', 'What it shows.'],
    ]);
    expect(err).toBe('');
  },
);

// The renderer sees no font of the machine: letters come from what the program brings along, or not at all.
test('letters are drawn, whatever fonts the machine has', async () => {
  const titled = async (title: string) => marked((await drawn({ ...ranksSample(), title })).png);
  const [none, some, more] = [await titled(' '), await titled('Ílík'), await titled('WWWWÅŽŁΩЖ')];
  expect(some - none).toBeGreaterThan(100);
  expect(more - none).toBeGreaterThan(2 * (some - none));
});

test('the ground is light, dark or none, and light where the screen would decide', async () => {
  const corner = async (ground: NonNullable<FigureWish['ground']>) =>
    (await drawn(ranksSample(), { ground })).png.at(1, 1);
  expect(await corner('auto')).toEqual([0xfd, 0xfc, 0xf9, 255]);
  expect(await corner('light')).toEqual([0xfd, 0xfc, 0xf9, 255]);
  expect(await corner('dark')).toEqual([0x19, 0x1c, 0x17, 255]);
  expect(await corner('none')).toEqual([0, 0, 0, 0]);
});

test('for a screen it has the pixels of that screen', async () => {
  const { png } = await drawn(ranksSample(), { size: { width: 800, height: 600 } });
  expect([png.width, png.height]).toEqual([800, 600]);
});

test('the same figure gives the same bytes', async () => {
  expect((await drawn(ranksSample())).bytes).toEqual((await drawn(ranksSample())).bytes);
});

test('letters that the fonts lack are told of, and no others', async () => {
  const { err } = await drawn(ranksSample('Noir 無花果 Žižkov, κήπος & <сад>'));
  expect(err).toBe('pomary: a PNG cannot show 無 花 果, which its fonts lack; an SVG can\n');
  const svg = await figureSvg(ranksSample('無花果'), 'file');
  expect(named(readMarkup(svg), 'text').some(({ text }) => text.includes('無花果'))).toBe(true);
});
