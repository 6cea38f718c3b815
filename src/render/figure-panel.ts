import { displayWidth } from '../source/display-width.ts';
import { visible } from '../source/visible.ts';
import { distinctLabels } from './distinct-labels.ts';
import { FONT, FONT_SIZE, TONES } from './figure-style.ts';
import { wrapWords } from './text-lines.ts';

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

const DAY_MS = 86_400_000;
/** Names the day of an axis that counts days since 1970-01-01. */
export const DAY_LABEL = `utcFormat(datum.value * ${DAY_MS}, '%-d %b')`;

/** Days since 1970-01-01, of a day as YYYY-MM-DD. */
export function dayNumberOf(date: string): number {
  return Date.parse(`${date}T00:00:00Z`) / DAY_MS;
}

/** The most labels that stand side by side. */
const MOST_TICKS = 6;

/** Firsts and fifteenths of months between two days, or the firsts alone where these are too many. */
export function dayTicks(from: number, to: number): readonly number[] {
  const days = Array.from({ length: Math.floor(to) - Math.ceil(from) + 1 }, (_, at) => ({
    day: Math.ceil(from) + at,
    ofMonth: new Date((Math.ceil(from) + at) * DAY_MS).getUTCDate(),
  }));
  const of = (...wanted: readonly number[]) =>
    days.filter(({ ofMonth }) => wanted.includes(ofMonth)).map(({ day }) => day);
  const both = of(1, 15);
  return both.length > MOST_TICKS ? of(1) : both;
}

/**
 * Room for the names of rows: `narrow` for a phone, where names too long to stand beside the plot
 * go above their rows, so that both are whole; `wide` for a screen.
 */
export type LabelRoom = 'narrow' | 'wide';

/** The most room beside a plot for names that stand there, in units of the picture. */
const BESIDE = { narrow: 176, wide: 280 };
/** Letters of a name that is cut, and of a line of a name above its row, which may take more than one. */
const LONGEST = { narrow: 80, wide: 34 };
const LINE = 42;
const NARROWEST = 60;
/** Between a picture and what stands at its edge. */
const EDGE = 8;

/** A name and what stands before it, such as a rank. */
export interface RowName {
  readonly name: string;
  readonly lead?: string;
}

/** How the names of rows and the rows themselves lie in the panels of a figure. */
export interface RowLayout {
  /** Room left of the plots. */
  readonly left: number;
  /** Room above the first row. */
  readonly above: number;
  readonly rowHeight: number;
  /** Rows in the order of their values, with faint lines to follow by eye. */
  axis(rows: readonly RowName[]): Spec;
  /** Names that stand above their rows; none where they stand beside them. */
  names(rows: readonly RowName[]): readonly Spec[];
}

/**
 * What a plot does with the width of a phone: marks that lie close to each other, such as dots, need
 * `all` of it, and names stand above their rows; bars leave some to names that are short.
 */
export type WidthNeeded = 'all' | 'some';

/** @param rows of all panels, so that these are laid out alike and no two names look alike */
export function rowLayout(
  rows: readonly RowName[],
  room: LabelRoom,
  needed: WidthNeeded,
): RowLayout {
  const labels = distinctLabels(
    rows.map(({ name }) => visible(name)),
    LONGEST[room],
    '…',
  );
  const labelOf = ({ name, lead = '' }: RowName) =>
    `${lead === '' ? '' : `${lead}  `}${labels.get(visible(name)) ?? visible(name)}`;
  const beside = Math.max(NARROWEST, textWidth(rows.map(labelOf)) + 10);
  const isAbove = room === 'narrow' && (needed === 'all' || beside > BESIDE.narrow);
  const axis = (own: readonly RowName[]) => rowAxis(own.map(labelOf), isAbove);
  if (!isAbove) {
    const left = Math.min(beside, BESIDE[room]);
    return { left, above: 6, rowHeight: 25, axis, names: () => [] };
  }
  const linesOf = (row: RowName) => wrapWords(labelOf(row), LINE);
  const more = Math.max(...rows.map((row) => linesOf(row).length)) - 1;
  return {
    left: EDGE,
    above: 15 + 8 * more,
    rowHeight: 38 + 22 * more,
    axis,
    names: (own) => namesAbove(own.map(linesOf), axis(own)),
  };
}

/** In bands: dots alone would put the first row and the last on the edge. */
function rowAxis(labels: readonly string[], isAbove: boolean): Spec {
  return {
    field: 'row',
    type: 'ordinal',
    scale: { type: 'band', domain: labels.map((_, at) => at), padding: 0 },
    axis: {
      title: null,
      domain: false,
      ticks: false,
      grid: true,
      labels: !isAbove,
      labelPadding: 8,
      labelExpr: `${JSON.stringify(labels)}[datum.value]`,
    },
  };
}

/** The last line of each name right above its row, the others above that. */
function namesAbove(names: readonly (readonly string[])[], y: Spec): readonly Spec[] {
  const most = Math.max(...names.map((lines) => lines.length));
  return Array.from({ length: most }, (_, up) => ({
    data: {
      values: names.flatMap((lines, row) => {
        const line = lines.at(-1 - up);
        return line === undefined ? [] : [{ line, row }];
      }),
    },
    mark: {
      type: 'text',
      align: 'left',
      dy: -16 - 18 * up,
      fontSize: FONT_SIZE,
      color: TONES.ink.light,
    },
    encoding: { x: { value: 0 }, y, text: { field: 'line' } },
  }));
}

/**
 * Widths of letters in font sizes, on the wide side of what systems use for their menus, since
 * nothing is measured: what fits by these fits everywhere.
 */
const LETTERS: readonly (readonly [letters: RegExp, width: number])[] = [
  [/^[ iIjJl'’.,:;|!]$/, 0.32],
  [/^[frt()[\]/"-]$/, 0.41],
  [/^[mMwW@%]$/, 0.99],
  [/^[A-Z#…]$/, 0.77],
  [/^[\x20-\x7e]$/, 0.635],
];
/** Of any other letter, for each column that it takes in a terminal. */
const COLUMN = 0.7;

/** Width of the widest of some texts, about. */
export function textWidth(texts: readonly string[]): number {
  const widths = texts.map((text) => {
    let width = 0;
    for (const letter of text) {
      const known = LETTERS.find(([letters]) => letters.test(letter));
      width += known?.[1] ?? COLUMN * displayWidth(letter);
    }
    return width;
  });
  return Math.round(Math.max(0, ...widths) * FONT_SIZE);
}

/** The part of a scale that is drawn on, in whole steps: the rest would only press the marks together. */
export function drawnPart(
  { low, high }: { readonly low: number; readonly high: number },
  values: readonly number[],
): readonly [from: number, to: number] {
  const from = Math.max(low, Math.floor(Math.min(...values)));
  const to = Math.min(high, Math.ceil(Math.max(...values)));
  return to > from ? [from, to] : [low, high];
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
