import fc from 'fast-check';
import { afterEach, expect, test, vi } from 'vitest';
import {
  cultivarSample,
  daySample,
  figureSamples,
  poolSample,
  ranksSample,
  ripeningSample,
  weightsSample,
} from '../../tests/support/figure-samples.ts';
import { anyText } from '../../tests/support/report-arbitrary.ts';
import { type Element, named, readMarkup } from '../../tests/support/strict-markup.ts';
import { textWidth } from './figure-panel.ts';
import { FIGURE_STYLE, FIGURE_WIDTH, GROUNDS, TONES } from './figure-style.ts';
import { figureSvg } from './figure-svg.ts';

afterEach(() => vi.restoreAllMocks());

/** The numbers of `translate(x,y)`. */
function placeOf(element: Element | undefined): readonly [number, number] {
  const found = /^translate\((-?[\d.]+),(-?[\d.]+)\)/.exec(element?.attributes['transform'] ?? '');
  return [Number(found?.[1]), Number(found?.[2])];
}

const length = (element: Element | undefined, key: string): number =>
  Number(element?.attributes[key]);

const inTone = (elements: readonly Element[], what: 'fill' | 'stroke', tone: keyof typeof TONES) =>
  elements.filter((one) => one.attributes[what] === TONES[tone].light);

test.each(figureSamples().map((figure) => [figure.kind, figure] as const))(
  '%s: a picture with a role, a title and a description',
  async (_, figure) => {
    const warned = vi.spyOn(console, 'warn').mockImplementation(() => {});
    for (const place of ['file', 'page'] as const) {
      const svg = await figureSvg(figure, place);
      const [root, title, desc] = readMarkup(svg);
      expect(root?.attributes['role']).toBe('img');
      expect([root?.name, title?.name, desc?.name]).toEqual(['svg', 'title', 'desc']);
      expect(root?.attributes['aria-labelledby']).toBe(title?.attributes['id']);
      expect(root?.attributes['aria-describedby']).toBe(desc?.attributes['id']);
      expect(title?.text).toBe(`${figure.title}. What it shows.`);
      expect(desc?.text).toBe('All of it in words.');
      expect(svg).not.toMatch(/NaN|Infinity|undefined|null/);
    }
    expect(warned).not.toHaveBeenCalled();
  },
);

test.each(figureSamples().map((figure) => [figure.kind, figure] as const))(
  '%s: runs nothing, fetches nothing, and is the same every time',
  async (_, figure) => {
    const svg = await figureSvg(figure, 'file');
    expect(svg.replace('xmlns="http://www.w3.org/2000/svg"', '')).not.toMatch(
      /https?:|<script|<image|<use|<foreignObject|href|url\(|\son[a-z]+=|@import/,
    );
    expect(await figureSvg(figure, 'file')).toBe(svg);
  },
);

test('a file stands alone with title, reading and ground; a page brings its own', async () => {
  const file = readMarkup(await figureSvg(ranksSample(), 'file'));
  const page = readMarkup(await figureSvg(ranksSample(), 'page'));
  const texts = (elements: readonly Element[]) => named(elements, 'text').map(({ text }) => text);
  expect(texts(file)).toEqual(expect.arrayContaining(['A figure', 'What its marks mean.']));
  expect(texts(page)).not.toEqual(expect.arrayContaining(['A figure']));
  expect(named(file, 'rect').map((one) => one.attributes['fill'])).toEqual([TONES.paper.light]);
  expect(named(page, 'rect')).toEqual([]);
});

test('gardens stand round their middle, home as a square, on the same scale', async () => {
  const all = readMarkup(await figureSvg(poolSample(), 'page'));
  const axis = named(all, 'text')
    .filter(({ text }) => /^\d+$/.test(text))
    .map((tick) => ({ value: Number(tick.text), x: placeOf(tick)[0] }));
  const [first, last] = [axis[0], axis.at(-1)];
  if (first === undefined || last === undefined) throw new Error('the axis has no ticks');
  // As much of the scale as what is drawn takes: from 2 to 9.
  expect([first.value, last.value]).toEqual([2, 9]);
  const step = (last.x - first.x) / (last.value - first.value);
  const on = (value: number) => expect.closeTo(first.x + (value - first.value) * step, 1);
  const marks = named(all, 'path').filter((one) => one.attributes['transform'] !== undefined);
  const middles = inTone(marks, 'stroke', 'tint').map((dot) => placeOf(dot)[0]);
  expect(middles.toSorted((a, b) => a - b)).toEqual([on(4), on(7)]);
  const gardens = inTone(marks, 'fill', 'paper');
  expect(gardens.map((dot) => placeOf(dot)[0]).toSorted((a, b) => a - b)).toEqual([
    on(4.5),
    on(6.5),
    on(7.5),
  ]);
  const squares = gardens.filter((dot) => !/A/.test(dot.attributes['d'] ?? ''));
  expect(squares.map((dot) => placeOf(dot)[0])).toEqual([on(7.5)]);
});

test('dots and intervals stand where their values lie on the scale', async () => {
  const all = readMarkup(await figureSvg(ranksSample(), 'page'));
  const ticks = named(all, 'text')
    .filter(({ text }) => /^\d+$/.test(text))
    .map((tick) => ({ value: Number(tick.text), x: placeOf(tick)[0] }));
  const [first, last] = [ticks[0], ticks.at(-1)];
  if (first === undefined || last === undefined) throw new Error('the axis has no ticks');
  // The axis takes in what is drawn, in whole steps of the scale.
  expect([first.value, last.value]).toEqual([3, 9]);
  expect(last.x).toBeGreaterThan(first.x);
  const on = (value: number) =>
    first.x + ((value - first.value) / (last.value - first.value)) * (last.x - first.x);
  const dots = inTone(named(all, 'path'), 'stroke', 'tint').map((dot) => placeOf(dot)[0]);
  expect(dots.toSorted((a, b) => a - b)).toEqual(
    [3.25, 5.5, 7.75].map((value) => expect.closeTo(on(value), 1)),
  );
  const lines = inTone(named(all, 'line'), 'stroke', 'ink').map((line) => {
    const [x] = placeOf(line);
    return [x, x + length(line, 'x2')].toSorted((a, b) => a - b);
  });
  expect(lines).toEqual([
    [expect.closeTo(on(7), 1), expect.closeTo(on(8.5), 1)],
    [expect.closeTo(on(4), 1), expect.closeTo(on(7.1), 1)],
  ]);
});

test('a dot without an interval is hollow, so that shape tells it and not colour', async () => {
  const all = readMarkup(await figureSvg(ranksSample(), 'page'));
  const dots = inTone(named(all, 'path'), 'stroke', 'tint');
  expect(dots.map((dot) => dot.attributes['fill']).toSorted()).toEqual(
    [TONES.tint.light, TONES.tint.light, TONES.paper.light].toSorted(),
  );
});

test('rows that share letters carry them', async () => {
  const all = readMarkup(await figureSvg(ranksSample(), 'page'));
  expect(named(all, 'text').map(({ text }) => text)).toEqual(expect.arrayContaining(['a', 'ab']));
});

test('calendar bars span their days, whatever the time zone', async () => {
  const all = readMarkup(await figureSvg(ripeningSample(), 'page'));
  const firsts = named(all, 'text')
    .filter(({ text }) => /^1 (Sep|Oct)$/.test(text))
    .map(placeOf);
  const september = firsts[0]?.[0] ?? Number.NaN;
  const day = ((firsts[1]?.[0] ?? Number.NaN) - september) / 30;
  const bar = inTone(named(all, 'path'), 'fill', 'pale')[0];
  // From 21 August, 11 days before 1 September, for 30 days to 20 September.
  const outline = /^M(-?[\d.]+),[-\d.]+h(-?[\d.]+)/.exec(bar?.attributes['d'] ?? '');
  const ends = [Number(outline?.[1]), Number(outline?.[1]) + Number(outline?.[2])];
  expect(ends.toSorted((a, b) => a - b)).toEqual([
    expect.closeTo(september - 11 * day, 0),
    expect.closeTo(september + 19 * day, 0),
  ]);
  const frost = named(all, 'line').find((line) => line.attributes['stroke-dasharray'] === '5,4');
  expect(placeOf(frost)[0]).toBeCloseTo(september + 58 * day, 0);
});

test('too few fruit for a box are drawn one by one', async () => {
  const all = readMarkup(await figureSvg(weightsSample(), 'page'));
  expect(inTone(named(all, 'path'), 'fill', 'pale')).toHaveLength(1);
  expect(inTone(named(all, 'path'), 'fill', 'paper')).toHaveLength(2);
});

test('the crops of a cultivar differ in shape and line, not in colour alone', async () => {
  const all = readMarkup(await figureSvg(cultivarSample(), 'page'));
  const marks = inTone(named(all, 'path'), 'stroke', 'tint').map((one) => one.attributes);
  const isSquare = (d = '') => /^M[-\d.,]+L/.test(d) || /h/.test(d);
  const hollow = marks.filter((one) => one['fill'] === TONES.paper.light);
  const full = marks.filter((one) => one['fill'] === TONES.tint.light);
  expect([hollow.length, full.length]).toEqual([1, 3]);
  expect(hollow.every((one) => isSquare(one['d']))).toBe(true);
  expect(full.some((one) => isSquare(one['d']))).toBe(false);
});

test('marks of a day lie on the scale: large and full, small for tasters, hollow if unripe', async () => {
  const all = readMarkup(await figureSvg(daySample(), 'page'));
  const axis = named(all, 'text')
    .filter(({ text }) => /^(1|10)$/.test(text))
    .map(placeOf);
  const [left, right] = [axis[0]?.[0] ?? Number.NaN, axis[1]?.[0] ?? Number.NaN];
  const on = (value: number) => expect.closeTo(left + ((value - 1) / 9) * (right - left), 1);
  const marks = named(all, 'path').filter(({ attributes }) => attributes['fill'] !== 'none');
  const large = inTone(marks, 'stroke', 'tint');
  const full = large.filter((one) => one.attributes['fill'] === TONES.tint.light);
  const hollow = large.filter((one) => one.attributes['fill'] === TONES.paper.light);
  expect(placeOf(full[0])[0]).toEqual(on(7.75));
  expect(hollow.map((one) => placeOf(one)[0])).toEqual([on(4)]);
  const small = inTone(marks, 'stroke', 'ink').map((one) => placeOf(one)[0]);
  expect(small.slice(0, 2)).toEqual([on(5.5), on(10)]);
  expect(named(all, 'text').map(({ text }) => text)).toEqual(
    expect.arrayContaining(['Slate Quay, overripe', 'Mean weight of a fruit (g)']),
  );
});

test.each([
  [1920, 1080],
  [1280, 720],
  [1080, 1920],
  [800, 600],
  [1200, 300],
])('fills a screen of %i by %i, with every label inside it', async (width, height) => {
  for (const figure of figureSamples('A name as long as names of cultivars ever are, and longer')) {
    const all = readMarkup(await figureSvg(figure, 'file', { size: { width, height } }));
    expect(all[0]?.attributes).toMatchObject({ width: String(width), height: String(height) });
    const [, , across = 0, down = 0] = (all[0]?.attributes['viewBox'] ?? '').split(' ').map(Number);
    expect(across / down).toBeCloseTo(width / height, 1);
    for (const line of named(all, 'text').filter(({ attributes }) => 'x' in attributes)) {
      expect(length(line, 'x') || 0).toBeLessThan(across);
      expect(length(line, 'y') || 0).toBeLessThanOrEqual(down);
    }
    const plots = named(all, 'g').filter(({ inside }) => inside.length === 1);
    for (const plot of plots) {
      const [x, y] = placeOf(plot);
      expect(x).toBeLessThan(across);
      expect(y).toBeLessThan(down);
    }
  }
});

test('plots stand side by side on a wide screen, and below each other on a high one', async () => {
  const places = async (width: number, height: number) =>
    named(readMarkup(await figureSvg(daySample(), 'file', { size: { width, height } })), 'g')
      .filter(({ inside }) => inside.length === 1)
      .map(placeOf);
  const [left, right] = await places(1920, 1080);
  expect(right?.[0]).toBeGreaterThan(left?.[0] ?? Number.NaN);
  expect(right?.[1]).toBe(left?.[1]);
  const [above, below] = await places(1080, 1920);
  expect(below?.[0]).toBe(above?.[0]);
  expect(below?.[1]).toBeGreaterThan(above?.[1] ?? Number.NaN);
});

const LONG = 'A name as long as names of cultivars ever are, and longer';

test.each([
  [1920, 1080, 2],
  [1080, 1920, 1],
])('long names leave an axis room for its title, %i by %i', async (width, height, columns) => {
  const all = readMarkup(await figureSvg(daySample(LONG), 'file', { size: { width, height } }));
  const [, , across = 0] = (all[0]?.attributes['viewBox'] ?? '').split(' ').map(Number);
  // As much as names may take beside a plot, and what is left free at its right.
  const [beside, right] = [280, 16];
  const plot = across / columns - beside - right;
  expect(plot / 2 + right).toBeGreaterThanOrEqual(textWidth(['Mean weight of a fruit (g)']) / 2);
});

test('what is drawn stays within the picture', async () => {
  for (const figure of [...figureSamples(), ...figureSamples(LONG)]) {
    const all = readMarkup(await figureSvg(figure, 'file'));
    const [, , width, height] = (all[0]?.attributes['viewBox'] ?? '').split(' ').map(Number);
    expect(width).toBe(FIGURE_WIDTH);
    const bottoms = named(all, 'text').map((one) => length(one, 'y') || 0);
    expect(Math.max(...bottoms)).toBeLessThanOrEqual(height ?? 0);
    for (const { text } of named(all, 'text')) {
      expect(textWidth([text]), text).toBeLessThanOrEqual(FIGURE_WIDTH);
    }
  }
});

test('names too long to stand beside a plot stand above their rows, whole, and leave it the width', async () => {
  const name = 'Lamplighter, white, from the old wall';
  for (const figure of figureSamples(name).filter(({ kind }) => kind !== 'cultivar')) {
    const all = readMarkup(await figureSvg(figure, 'page'));
    const label = named(all, 'text').find(({ text }) => text.endsWith(name));
    expect(label?.attributes['text-anchor'] ?? 'start').toBe('start');
    const lines = named(all, 'line').map((line) => Math.abs(length(line, 'x2')) || 0);
    expect(Math.max(...lines)).toBeGreaterThan(0.8 * FIGURE_WIDTH);
  }
});

test('a name of more than a line is whole on two, both of them below the heading', async () => {
  const name = 'Seedling of the Northern Lantern, from under the old wall';
  for (const figure of figureSamples(name).filter(({ kind }) => kind !== 'cultivar')) {
    const all = readMarkup(await figureSvg(figure, 'page'));
    const texts = named(all, 'text');
    const last = texts.findIndex(({ text }) => /wall$/.test(text));
    const first = texts.findIndex(({ text }) => /Seedling of/.test(text));
    const words = `${texts[first]?.text} ${texts[last]?.text}`.replace(/^\d+ +/, '');
    expect(words, figure.kind).toBe(name);
    const [up = 0, down = 0] = [first, last].map((at) => placeOf(texts[at])[1]);
    expect(down - up).toBe(18);
    // Letters of 14 rise some 11 above their line, and the plot leaves 22 above itself.
    expect(up).toBeGreaterThanOrEqual(0);
  }
});

test('a name that fits stands beside a bar, and above dots, which need the width', async () => {
  const anchors = new Map<string, string | undefined>();
  for (const figure of figureSamples('Salt Parson')) {
    const all = readMarkup(await figureSvg(figure, 'page'));
    const label = named(all, 'text').find(({ text }) => text.endsWith('Salt Parson'));
    anchors.set(figure.kind, label?.attributes['text-anchor'] ?? 'start');
  }
  for (const kind of ['ripening', 'weights']) expect(anchors.get(kind), kind).toBe('end');
  for (const kind of ['ranks', 'day', 'pool']) expect(anchors.get(kind), kind).toBe('start');
});

test('a weight is drawn where the weights lie, and not from nothing on', async () => {
  const all = readMarkup(await figureSvg(daySample(), 'page'));
  const ticks = named(all, 'text').map(({ text }) => text);
  expect(ticks).not.toContain('0');
});

test.each(GROUNDS)('on the ground %s: its own tones, and no others', async (ground) => {
  for (const figure of figureSamples()) {
    const svg = await figureSvg(figure, 'file', { ground });
    const all = readMarkup(svg);
    const scheme = ground === 'dark' ? 'dark' : 'light';
    const tones = Object.values(TONES).map((tone) => tone[scheme] as string);
    const used = all
      .flatMap(({ attributes }) => [attributes['fill'], attributes['stroke']])
      .filter((color) => color !== undefined && color !== 'none' && color !== 'transparent');
    expect(used.filter((color) => !tones.includes(color ?? ''))).toEqual([]);
    const papers = named(all, 'rect').map(({ attributes }) => attributes['fill']);
    expect(papers).toEqual(ground === 'none' ? [] : [TONES.paper[scheme]]);
    expect(svg.includes('prefers-color-scheme')).toBe(ground === 'auto');
  }
});

test('a page that is dark on every screen is printed in the light', async () => {
  const svg = await figureSvg(ranksSample(), 'page', { ground: 'dark' });
  expect(svg).toContain('<style>@media screen {');
  expect(inTone(named(readMarkup(svg), 'path'), 'stroke', 'tint')).toHaveLength(3);
});

test('the only plot is not headed with what the title says', async () => {
  const texts = async (title: string) =>
    named(readMarkup(await figureSvg({ ...poolSample(), title }, 'file')), 'text').map(
      ({ text }) => text,
    );
  expect(await texts('Index in four gardens, main crop')).not.toContain('Main crop');
  expect(await texts('Index in four gardens')).toContain('Main crop');
});

test('every tone has a class of its own, by which the dark changes it', async () => {
  for (const figure of figureSamples()) {
    for (const { attributes } of readMarkup(await figureSvg(figure, 'file'))) {
      for (const what of ['fill', 'stroke']) {
        const color = attributes[what];
        if (color === undefined || color === 'none') continue;
        const tone = Object.entries(TONES).find(([, { light }]) => light === color)?.[0];
        expect(tone, `${what} ${color}`).toBeDefined();
        expect(attributes['class']?.split(' ')).toContain(`${what}-${tone}`);
        expect(FIGURE_STYLE).toContain(`.${what}-${tone}{`);
      }
    }
  }
});

test('names are text and nothing but text', async () => {
  const hostile = `</text><script>" ]};'\\`;
  for (const figure of figureSamples(hostile)) {
    const all = readMarkup(await figureSvg(figure, 'file'));
    expect(named(all, 'script')).toEqual([]);
    const shown = named(all, 'text').map(({ text }) => text);
    expect(shown.some((text) => text.includes('</text><script>'))).toBe(true);
  }
});

test('whatever a name holds, the picture is well formed', async () => {
  await fc.assert(
    fc.asyncProperty(anyText, async (name) => {
      for (const figure of figureSamples(name)) {
        const svg = await figureSvg(figure, 'file');
        readMarkup(svg);
        // XML 1.0, production 2: the characters of a document.
        expect(svg).not.toMatch(/[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\u{10000}-\u{10ffff}]/u);
      }
    }),
    { numRuns: 20 },
  );
});

/** Contrast ratio of two colours (WCAG 2.2, relative luminance and contrast ratio). */
function contrast(one: string, other: string): number {
  const luminance = (color: string): number => {
    const [red = 0, green = 0, blue = 0] = [1, 3, 5].map((at) => {
      const part = Number.parseInt(color.slice(at, at + 2), 16) / 255;
      return part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4;
    });
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
  };
  const [light = 0, dark = 0] = [luminance(one), luminance(other)].sort((a, b) => b - a);
  return (light + 0.05) / (dark + 0.05);
}

// WCAG 2.2, 1.4.6: at least 7 to 1 for text; 1.4.11: at least 3 to 1 for marks. Without a ground of its own a figure
// stands in the light tones on the page of someone else, who is taken to have a white one.
test('text and marks stand out on every ground', () => {
  const grounds = [
    { scheme: 'light', paper: TONES.paper.light },
    { scheme: 'dark', paper: TONES.paper.dark },
    { scheme: 'light', paper: '#ffffff' },
  ] as const;
  for (const { scheme, paper } of grounds) {
    const on = (tone: keyof typeof TONES) => contrast(TONES[tone][scheme], paper);
    expect(on('ink')).toBeGreaterThanOrEqual(7);
    expect(on('soft')).toBeGreaterThanOrEqual(7);
    expect(on('tint')).toBeGreaterThanOrEqual(3);
  }
});
