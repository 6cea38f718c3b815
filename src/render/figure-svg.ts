import { type Loader, parse, View } from 'vega';
import { compile, type TopLevelSpec } from 'vega-lite';
import type { Figure } from '../report/figure.ts';
import { cultivarPanels } from './figure-cultivar-panels.ts';
import { PANEL_CONFIG, type Panel } from './figure-panel.ts';
import { rankPanels } from './figure-rank-panels.ts';
import { ripeningPanels } from './figure-ripening-panels.ts';
import {
  FIGURE_STYLE,
  FIGURE_WIDTH,
  FONT,
  FONT_SIZE,
  LINE_HEIGHT,
  TONES,
  type Tone,
  withToneClasses,
} from './figure-style.ts';
import { weightPanels } from './figure-weight-panels.ts';
import { escaped } from './html-text.ts';
import { proseText } from './prose.ts';
import { wrapWords } from './text-lines.ts';

/**
 * `file`: a picture that stands alone, with its title, its reading and its ground;
 * `page`: inside a page that says these itself.
 */
export type FigurePlace = 'file' | 'page';

/** The figure as SVG. The same figure gives the same text; nothing is fetched. */
export async function figureSvg(figure: Figure, place: FigurePlace): Promise<string> {
  const plots: { readonly panel: Panel; readonly drawn: string }[] = [];
  for (const panel of panelsOf(figure)) plots.push({ panel, drawn: await drawn(panel) });
  return assembled(figure, place, plots);
}

function panelsOf(figure: Figure): readonly Panel[] {
  switch (figure.kind) {
    case 'ranks':
      return rankPanels(figure);
    case 'ripening':
      return ripeningPanels(figure);
    case 'weights':
      return weightPanels(figure);
    case 'cultivar':
      return cultivarPanels(figure);
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
async function drawn({ spec, left, right, above, below, height }: Panel): Promise<string> {
  const whole = {
    ...spec,
    width: FIGURE_WIDTH - left - right,
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
const LETTERS_IN_A_LINE = 58;

function assembled(
  figure: Figure,
  place: FigurePlace,
  plots: readonly { readonly panel: Panel; readonly drawn: string }[],
): string {
  const parts: string[] = [];
  let y = EDGE;
  const line = (text: string, tone: Tone, bold = false) => {
    y += LINE_HEIGHT;
    parts.push(textAt(y - 5, text, tone, bold));
  };
  if (place === 'file') {
    for (const words of wrapWords(figure.title, 52)) line(words, 'ink', true);
    y += 4;
  }
  for (const [at, { panel, drawn }] of plots.entries()) {
    if (place === 'file' || plots.length > 1) line(panel.heading, 'ink', place === 'page');
    parts.push(`<g transform="translate(0,${y})">${drawn}</g>`);
    y += panel.above + panel.height + panel.below + (at < plots.length - 1 ? GAP : 0);
  }
  if (place === 'file') {
    for (const words of wrapWords(figure.reading, LETTERS_IN_A_LINE)) line(words, 'soft');
    y += EDGE;
  }
  const svg = wrapped(figure, place, y, withToneClasses(parts.join('\n')));
  // XML knows no such characters (XML 1.0, 2.2).
  return svg.replace(/[\ufffe\uffff]/g, '\ufffd');
}

function textAt(y: number, text: string, tone: Tone, bold: boolean): string {
  const weight = bold ? ' font-weight="bold"' : '';
  return `<text x="${EDGE}" y="${y}" font-family="${FONT}" font-size="${FONT_SIZE}"${weight} fill="${TONES[tone].light}">${escaped(text)}</text>`;
}

function wrapped(figure: Figure, place: FigurePlace, height: number, content: string): string {
  const id = escaped(`figure-${figure.key}`);
  const size = place === 'file' ? ` width="${FIGURE_WIDTH}" height="${height}"` : '';
  const ground =
    place === 'file'
      ? withToneClasses(`<rect width="100%" height="100%" fill="${TONES.paper.light}"/>\n`)
      : '';
  return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${FIGURE_WIDTH} ${height}"${size} role="img" aria-labelledby="${id}" aria-describedby="${id}-told">
<title id="${id}">${escaped(`${figure.title}. ${proseText(figure.alt)}`)}</title>
<desc id="${id}-told">${escaped(proseText(figure.description))}</desc>
<style>${FIGURE_STYLE}</style>
${ground}${content}
</svg>
`;
}
