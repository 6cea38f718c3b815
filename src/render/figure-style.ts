/**
 * The house style of figures. Ink alone carries the meaning, by place and shape; the tint is there
 * to please. Each tone is written into the picture as an attribute, for programs that know no style
 * sheets, and gets a class, by which the dark takes its own tone.
 */
export const TONES = {
  ink: { light: '#23271f', dark: '#e8e9e1' },
  soft: { light: '#4d5347', dark: '#b0b5a6' },
  line: { light: '#c9cbbf', dark: '#454a3f' },
  tint: { light: '#6d3a63', dark: '#d3a3c8' },
  pale: { light: '#d9c3d3', dark: '#5e4457' },
  paper: { light: '#fdfcf9', dark: '#191c17' },
} as const;

export type FigureTone = keyof typeof TONES;

export const FONT = 'system-ui, sans-serif';
/** Of labels and running text, in units of the picture. */
export const FONT_SIZE = 14;
export const LINE_HEIGHT = 19;
/** Of the whole picture: narrow, so that letters stay legible on a phone. */
export const FIGURE_WIDTH = 400;

/**
 * What a figure stands on: a light or a dark ground of its own, the one that the reader's screen
 * asks for, or none, to stand in ink on a light page.
 */
export const GROUNDS = ['auto', 'light', 'dark', 'none'] as const;
export type Ground = (typeof GROUNDS)[number];

export const FIGURE_FORMATS = ['svg', 'png'] as const;
export type FigureFormat = (typeof FIGURE_FORMATS)[number];

const NAMES = Object.keys(TONES) as readonly FigureTone[];

const DARK = NAMES.map(
  (tone) => `.fill-${tone}{fill:${TONES[tone].dark}}.stroke-${tone}{stroke:${TONES[tone].dark}}`,
).join('');

/** The dark, where the reader's screen asks for it. Paper stays light. */
export const FIGURE_STYLE = `@media screen and (prefers-color-scheme: dark) {${DARK}}`;

/** The dark on every screen. */
export const DARK_FIGURE_STYLE = `@media screen {${DARK}}`;

/** What is drawn in the light, in the tones of the dark. */
export function inTheDark(svg: string): string {
  return svg.replace(/ (fill|stroke)="(#[0-9a-f]{6})"/g, (attribute, what, color) => {
    const tone = NAMES.find((name) => TONES[name].light === color);
    return tone === undefined ? attribute : ` ${what}="${TONES[tone].dark}"`;
  });
}

/** Gives every element that is drawn in one of the tones the classes of these tones. */
export function withToneClasses(svg: string): string {
  return svg.replace(/<(?:path|line|text|rect)\b[^>]*>/g, (tag) => {
    const classes = [...tag.matchAll(/ (fill|stroke)="(#[0-9a-f]{6})"/g)].flatMap(
      ([, what, color]) => {
        const tone = NAMES.find((name) => TONES[name].light === color);
        return tone === undefined ? [] : [`${what}-${tone}`];
      },
    );
    if (classes.length === 0 || / class="/.test(tag)) return tag;
    return tag.replace(/^<\w+/, `$& class="${classes.join(' ')}"`);
  });
}
