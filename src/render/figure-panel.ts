import { displayWidth } from '../source/display-width.ts';
import { visible } from '../source/visible.ts';
import { distinctLabels } from './distinct-labels.ts';
import { FONT, FONT_SIZE, TONES } from './figure-style.ts';

/** Part of a specification in the words of Vega-Lite, plain JSON. */
export type Spec = Readonly<Record<string, unknown>>;

/** One plot of a figure. Lengths in units of the picture. */
export interface Panel {
  readonly heading: string;
  /** Room for labels left of the plot. */
  readonly left: number;
  readonly right: number;
  readonly above: number;
  readonly below: number;
  /** Of the plot itself. */
  readonly height: number;
  readonly spec: Spec;
}

export const DAY_MS = 86_400_000;
/** Names the day of an axis that counts days since 1970-01-01. */
export const DAY_LABEL = `utcFormat(datum.value * ${DAY_MS}, '%-d %b')`;

/** Of one row of names. */
export const ROW_HEIGHT = 25;

const LONGEST_NAME = 26;
/** Mean width of a letter, in font sizes: a guess on the wide side, since nothing is measured. */
const LETTER_WIDTH = 0.62;
const NARROWEST = 60;

/** Names as they fit beside the plots of one figure, no two alike. */
export function rowLabels(names: readonly string[]): (name: string) => string {
  const labels = distinctLabels(names.map(visible), LONGEST_NAME, '…');
  return (name) => labels.get(visible(name)) ?? visible(name);
}

/** Room that the longest of some labels takes left of a plot. */
export function labelRoom(labels: readonly string[]): number {
  return Math.max(NARROWEST, textWidth(labels) + 10);
}

/** Width of the widest of some texts, about. */
export function textWidth(texts: readonly string[]): number {
  const widest = texts.reduce((most, text) => Math.max(most, displayWidth(text)), 0);
  return Math.round(widest * FONT_SIZE * LETTER_WIDTH);
}

/** Rows of names in the order of the values, with faint lines to follow by eye. */
export function rowAxis(labels: readonly string[]): Spec {
  return {
    field: 'row',
    type: 'ordinal',
    scale: { domain: labels.map((_, at) => at), padding: 0 },
    axis: {
      title: null,
      domain: false,
      ticks: false,
      grid: true,
      labelPadding: 8,
      labelExpr: `${JSON.stringify(labels)}[datum.value]`,
    },
  };
}

/** The same in bands: dots alone would put the first row and the last on the edge. */
export function inBands(axis: Spec): Spec {
  return { ...axis, scale: { ...(axis['scale'] as Spec), type: 'band' } };
}

/** What all panels look like. */
export const PANEL_CONFIG: Spec = {
  aria: false,
  font: FONT,
  view: { stroke: null },
  axis: {
    aria: false,
    labelFont: FONT,
    labelFontSize: FONT_SIZE,
    labelFontWeight: 'normal',
    labelColor: TONES.ink.light,
    labelLimit: 0,
    // Nothing may hang on how wide some machine takes letters to be.
    labelOverlap: false,
    titleFont: FONT,
    titleFontSize: FONT_SIZE,
    titleFontWeight: 'normal',
    titleColor: TONES.soft.light,
    domainColor: TONES.soft.light,
    tickColor: TONES.soft.light,
    gridColor: TONES.line.light,
    gridOpacity: 1,
  },
};
