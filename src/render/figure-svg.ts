import { type Loader, parse, View } from 'vega';
import { compile, type TopLevelSpec } from 'vega-lite';
import type { Figure } from '../report/figures/figure.ts';
import { cultivarPanels } from './figure-cultivar-panels.ts';
import { dayPanels } from './figure-day-panels.ts';
import { type LabelRoom, PANEL_CONFIG, type Panel } from './figure-panel.ts';
import { poolPanels } from './figure-pool-panels.ts';
import { rankPanels } from './figure-rank-panels.ts';
import { ripeningPanels } from './figure-ripening-panels.ts';
import {
  DARK_FIGURE_STYLE,
  FIGURE_STYLE,
  FIGURE_WIDTH,
  type FigureTone,
  FONT,
  FONT_SIZE,
  type Ground,
  inTheDark,
  LINE_HEIGHT,
  TONES,
  withToneClasses,
} from './figure-style.ts';
import { weightPanels } from './figure-weight-panels.ts';
import { proseText } from './format-cell.ts';
import { escaped } from './html-text.ts';
import { wrapWords } from './text-lines.ts';

/**
 * `file`: a picture that stands alone, with its title, its reading and its ground;
 * `page`: inside a page that says these itself.
 */
export type FigurePlace = 'file' | 'page';

/** Of a picture for a screen, in px. */
export interface FigureSize {
  readonly width: number;
  readonly height: number;
}

export interface FigureLook {
  /**
   * Fills a screen of that size, plots side by side where it is wide; as high as it needs to be,
   * and narrow, if left out.
   */
  readonly size?: FigureSize | undefined;
  /** `auto` if left out. */
  readonly ground?: Ground | undefined;
}

/** The figure as SVG. The same figure gives the same text; nothing is fetched. */
export async function figureSvg(
  figure: Figure,
  place: FigurePlace,
  { size, ground = 'auto' }: FigureLook = {},
): Promise<string> {
  const panels = panelsOf(figure, size === undefined ? 'narrow' : 'wide');
  const layout = layoutOf(figure, panels, place, size);
  const plots: Plot[] = [];
  for (const panel of panels) {
    const stretched = { ...panel, height: Math.round(panel.height * layout.stretch) };
    plots.push({ panel: stretched, drawn: await drawn(stretched, layout.columnWidth) });
  }
  const svg = assembled(figure, { place, ground }, plots, layout);
  return place === 'file' && ground === 'dark' ? inTheDark(svg) : svg;
}

function panelsOf(figure: Figure, room: LabelRoom): readonly Panel[] {
  switch (figure.kind) {
    case 'ranks':
      return rankPanels(figure, room);
    case 'ripening':
      return ripeningPanels(figure, room);
    case 'weights':
      return weightPanels(figure, room);
    case 'cultivar':
      return cultivarPanels(figure);
    case 'day':
      return dayPanels(figure, room);
    case 'pool':
      return poolPanels(figure, room);
  }
}

const refuse = () => Promise.reject(new Error('a figure reads no file and no address'));
const NO_LOADER: Loader = {
  load: refuse,
  sanitize: refuse,
  http: refuse,
  file: refuse,
} as unknown as Loader;

/** The plot's elements, its upper left corner of labels at the origin. */
async function drawn(
  { spec, left, right, above, below, height }: Panel,
  width: number,
): Promise<string> {
  const whole = {
    ...spec,
    width: width - left - right,
    height,
    // Nothing is measured here, so nothing is fitted: the panel leaves the room that it needs.
    autosize: { type: 'none' },
    padding: { left, top: above, right, bottom: below },
    background: null,
    config: PANEL_CONFIG,
  };
  const compiled = compile(whole as unknown as TopLevelSpec).spec;
  const view = new View(parse(compiled), { renderer: 'none', loader: NO_LOADER });
  const svg = await view.toSVG();
  view.finalize();
  return cleaned(svg.replace(/^<svg[^>]*>/, '').replace(/<\/svg>\s*$/, ''));
}

/** Without what only browsers of live views need, and with lengths rounded to what eyes can see. */
function cleaned(svg: string): string {
  return svg
    .replace(/<path class="(?:background|foreground)"[^>]*\/>/g, '')
    .replace(/<[a-z][^>]*>/g, cleanedTag);
}

function cleanedTag(tag: string): string {
  return tag
    .replace(/ (?:class|pointer-events|aria-[a-z]+|role)="[^"]*"/g, '')
    .replace(/ opacity="1"/g, '')
    .replace(/ (?:transform|d|x2|y2)="[^"]*"/g, (attribute) =>
      attribute.replace(/-?\d+\.\d{3,}(?:e-?\d+)?/g, (length) => String(rounded(Number(length)))),
    );
}

function rounded(length: number): number {
  return Math.round(length * 100) / 100 || 0;
}

const EDGE = 8;
/** Between two plots. */
const GAP = 8;
const LETTERS_IN_A_LINE = 50;
const LETTERS_IN_A_TITLE = 43;

interface Plot {
  readonly panel: Panel;
  readonly drawn: string;
}

/** How a figure is laid out, in units of the picture. */
interface Layout {
  readonly width: number;
  /** What it needs, if no size is asked for. */
  readonly height: number | undefined;
  readonly columnWidth: number;
  /** How many plots stand in the first column; the others stand in the second. */
  readonly first: number;
  /** Left free above, so that it stands in the middle. */
  readonly above: number;
  /** Rows are so many times as high as usual. */
  readonly stretch: number;
  /** As asked for, px. */
  readonly size: FigureSize | undefined;
}

/** Wider than this, plots stand side by side. */
const WIDE = 1.2;
/** The least width of a plot. */
const LEAST_PLOT = FIGURE_WIDTH / 2;
/** Rows further apart than this do not read as one plot. */
const MOST_STRETCHED = 2.4;

function layoutOf(
  figure: Figure,
  panels: readonly Panel[],
  place: FigurePlace,
  size: FigureSize | undefined,
): Layout {
  const narrow = { width: FIGURE_WIDTH, height: undefined, columnWidth: FIGURE_WIDTH };
  if (size === undefined) return { ...narrow, first: panels.length, above: 0, stretch: 1, size };
  const ratio = size.width / size.height;
  const plotsHeight = (own: readonly Panel[], stretch: number) =>
    own.reduce(
      (sum, { above, height, below }) => sum + LINE_HEIGHT + above + height * stretch + below + GAP,
      0,
    );
  const columnsOf = (first: number) =>
    [panels.slice(0, first), panels.slice(first)].filter((own) => own.length > 0);
  const highest = (first: number, stretch: number) =>
    Math.max(...columnsOf(first).map((own) => plotsHeight(own, stretch)));
  const first =
    ratio > WIDE && panels.length > 1
      ? panels.map((_, at) => at + 1).reduce((a, b) => (highest(b, 1) < highest(a, 1) ? b : a))
      : panels.length;
  const columns = columnsOf(first);
  const heightFor = (width: number, stretch: number) =>
    2 * EDGE + wordsHeight(figure, place, width) + highest(first, stretch);
  // Long names beside a plot must leave it room for its axis, which has a title and numbers.
  const beside = Math.max(...panels.map(({ left, right }) => left + right));
  let width = columns.length * Math.max(FIGURE_WIDTH, beside + LEAST_PLOT);
  // Too high for the screen: wider, and so smaller. Words take fewer lines then.
  for (let step = 0; step < 8 && heightFor(width, 1) > width / ratio; step++) {
    width = Math.ceil(Math.max(width + 1, heightFor(width, 1) * ratio));
  }
  const height = width / ratio;
  const rows = Math.max(...columns.map((own) => own.reduce((sum, one) => sum + one.height, 0)));
  const spare = Math.max(0, height - heightFor(width, 1));
  const stretch = Math.min(MOST_STRETCHED, 1 + (0.9 * spare) / Math.max(1, rows));
  const above = Math.max(0, Math.floor((height - heightFor(width, stretch)) / 2));
  return { width, height, columnWidth: width / columns.length, first, above, stretch, size };
}

function wordsHeight(figure: Figure, place: FigurePlace, width: number): number {
  if (place === 'page') return 0;
  const lines = titleLines(figure, width).length + readingLines(figure, width).length;
  return lines * LINE_HEIGHT + 4 + EDGE;
}

function titleLines({ title }: Figure, width: number): readonly string[] {
  return wrapWords(title, Math.floor((LETTERS_IN_A_TITLE * width) / FIGURE_WIDTH));
}

function readingLines({ reading }: Figure, width: number): readonly string[] {
  return wrapWords(reading, Math.floor((LETTERS_IN_A_LINE * width) / FIGURE_WIDTH));
}

interface Setting {
  readonly place: FigurePlace;
  readonly ground: Ground;
}

function assembled(
  figure: Figure,
  setting: Setting,
  plots: readonly Plot[],
  layout: Layout,
): string {
  const { place } = setting;
  const parts: string[] = [];
  let x = 0;
  let y = EDGE + layout.above;
  const line = (text: string, tone: FigureTone, bold = false) => {
    y += LINE_HEIGHT;
    parts.push(textAt(x + EDGE, y - 5, text, tone, bold));
  };
  if (place === 'file') {
    for (const words of titleLines(figure, layout.width)) line(words, 'ink', true);
    y += 4;
  }
  const top = y;
  let bottom = y;
  for (const [at, { panel, drawn }] of plots.entries()) {
    if (at === layout.first) [x, y] = [layout.columnWidth, top];
    if (isHeaded(figure, place)) line(panel.heading, 'ink', place === 'page');
    parts.push(`<g transform="translate(${x},${y})">${drawn}</g>`);
    y += panel.above + panel.height + panel.below + (at < plots.length - 1 ? GAP : 0);
    bottom = Math.max(bottom, y);
  }
  [x, y] = [0, bottom];
  if (place === 'file') {
    for (const words of readingLines(figure, layout.width)) line(words, 'soft');
    y += EDGE;
  }
  const svg = wrapped(figure, setting, layout, y, withToneClasses(parts.join('\n')));
  // XML knows no such characters (XML 1.0, 2.2).
  return svg.replace(/[\ufffe\uffff]/g, '\ufffd');
}

/** What the title says already is not said again over the only plot. */
function isHeaded({ title, panels }: Figure, place: FigurePlace): boolean {
  const [only, second] = panels;
  if (only === undefined || second !== undefined) return true;
  return place === 'file' && !title.toLowerCase().includes(only.heading.toLowerCase());
}

function textAt(x: number, y: number, text: string, tone: FigureTone, bold: boolean): string {
  const weight = bold ? ' font-weight="bold"' : '';
  return `<text x="${x}" y="${y}" font-family="${FONT}" font-size="${FONT_SIZE}"${weight} fill="${TONES[tone].light}">${escaped(text)}</text>`;
}

function wrapped(
  figure: Figure,
  { place, ground }: Setting,
  { width, height, size }: Layout,
  needed: number,
  content: string,
): string {
  const id = escaped(`figure-${figure.key}`);
  const view = `${width} ${rounded(height ?? needed)}`;
  const [shownWidth, shownHeight] = [size?.width ?? width, size?.height ?? needed];
  const shown = place === 'file' ? ` width="${shownWidth}" height="${shownHeight}"` : '';
  const paper =
    place === 'file' && ground !== 'none'
      ? withToneClasses(`<rect width="100%" height="100%" fill="${TONES.paper.light}"/>\n`)
      : '';
  return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${view}"${shown} role="img" aria-labelledby="${id}" aria-describedby="${id}-told">
<title id="${id}">${escaped(`${figure.title}. ${proseText(figure.alt)}`)}</title>
<desc id="${id}-told">${escaped(proseText(figure.description))}</desc>
${styleOf(place, ground)}${paper}${content}
</svg>
`;
}

function styleOf(place: FigurePlace, ground: Ground): string {
  if (ground === 'auto') return `<style>${FIGURE_STYLE}</style>\n`;
  // A page is printed in the light, whatever it is on a screen.
  return ground === 'dark' && place === 'page' ? `<style>${DARK_FIGURE_STYLE}</style>\n` : '';
}
