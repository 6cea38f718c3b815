import { displayWidth, graphemesOf, headOf, isWider } from '../source/display-width.ts';
import { distinctLabels } from './distinct-labels.ts';
import type { PeopleColumn } from './people-columns.ts';
import { wrapWords } from './text-lines.ts';

/** A column made to fit: nothing in it is wider than `width`. */
export interface FittedColumn {
  readonly header: readonly string[];
  readonly align: 'left' | 'right';
  readonly width: number;
  /** The lines of each cell. */
  readonly cells: readonly (readonly string[])[];
}

export interface Fit {
  readonly columns: readonly FittedColumn[];
  /** Headers of the columns that found no room. */
  readonly leftOut: readonly string[];
  /** Whether any text was cut short. */
  readonly shortened: boolean;
  /** Width at which every column would be shown whole, if there are terminals so wide. */
  readonly fullWidth: number | undefined;
}

/** Blank columns between two columns of the table. */
export const GAP = 2;
/** Text is not cut below this while there is a column that may be left out instead. */
const SHORT_TEXT = 14;
/** Text wider than this is a sentence, which may be wrapped to so many lines. */
const LONGEST_NAME = 30;
const SENTENCE_WIDTH = 16;
/** A name up to here keeps a line while there is a column that may be left out instead. */
const WHOLE_NAME = 24;
/** Shorter text is mostly a name, which is wrapped before it is cut. */
const NAME_LINES = 2;
const SENTENCE_LINES = 4;
/** Nobody has a wider one to turn to. */
const WIDEST_TERMINAL = 300;
/** Text is never cut below this. */
const SHORTEST_TEXT = 8;

/**
 * Makes a table as wide as it may be. Headers are wrapped first, to two lines and then three, and
 * then shortened, where they have a short form; then the widest text gives way: it is wrapped, and
 * cut where that is not enough; then columns are left out, those with the greatest `drop` first.
 * Columns with `drop` 0 stay even where they do not fit.
 */
export function fitColumns(columns: readonly PeopleColumn[], width: number, ellipsis: string): Fit {
  const measured = columns.map((column) => measure(column, width));
  const fullWidth = total(measured.map((column) => widthOf(column, WRAPS[WRAPS.length - 1] ?? 1)));
  let left = measured;
  for (;;) {
    const room = roomFor(left, width);
    const next = room === undefined ? nextToLeaveOut(left) : undefined;
    if (next === undefined) {
      const { of, widths } = room ?? tightest(left, width);
      const shown = of.map((one, index) => cutToFit(one, widths[index] ?? 1, ellipsis));
      return {
        columns: shown,
        leftOut: measured
          .filter(
            ({ column }) => !left.some((one) => one.column === column) && column.isDrawing !== true,
          )
          .map((one) => one.column.header),
        shortened: shown.some((one) => one.shortened),
        fullWidth: fullWidth <= WIDEST_TERMINAL ? fullWidth : undefined,
      };
    }
    left = left.filter((column) => column !== next);
  }
}

interface Measured {
  readonly column: PeopleColumn;
  /** What it is headed with. */
  readonly header: string;
  /** Width of the widest cell. */
  readonly body: number;
  /** Least width to which the text may be cut while there is something to leave out. */
  readonly telling: number;
  /** Least width of the header in one line, two, three and as many as it has words. */
  readonly headers: readonly number[];
}

/** How many lines a header may take, tried in this order. */
const WRAPS = [1, 2, 3];

function measure(column: PeopleColumn, width: number): Measured {
  const body = bodyWidth(column, width);
  const telling = tellingWidth(column, body);
  return headedBy({ column, body, telling }, column.header);
}

function headedBy(one: Omit<Measured, 'header' | 'headers'>, header: string): Measured {
  const widest = widestOf(header.split(/\s+/u));
  const headers = WRAPS.map((lines) => headerWidth(header, lines, widest));
  return { ...one, header, headers: [...headers, widest] };
}

function shortened(one: Measured): Measured {
  const { short } = one.column;
  return short === undefined ? one : headedBy(one, short);
}

/** Text far wider than the table will be cut anyway, so it is not measured out; figures are. */
function bodyWidth(column: PeopleColumn, width: number): number {
  if (column.align === 'right') return widestOf(column.cells);
  const most = Math.max(width, WIDEST_TERMINAL) + 1;
  return widestOf(column.cells.map((cell) => (isWider(cell, most) ? headOf(cell, most) : cell)));
}

/** A column that never goes names its rows, so its names are not cut while there is another way. */
function tellingWidth(column: PeopleColumn, body: number): number {
  if (column.whole === true && (column.drop > 0 || body <= WHOLE_NAME)) return body;
  if (body > LONGEST_NAME) return SENTENCE_WIDTH;
  if (body <= SHORT_TEXT || column.drop > 0) return SHORT_TEXT;
  for (let width = SHORT_TEXT; width < body; width++) {
    if (column.cells.every((cell) => wholeIn(cell, width, NAME_LINES))) return width;
  }
  return body;
}

function widestOf(texts: readonly string[]): number {
  return texts.reduce((widest, text) => Math.max(widest, displayWidth(text)), 1);
}

function headerWidth(header: string, lines: number, widest: number): number {
  const whole = Math.max(1, displayWidth(header));
  for (let width = widest; width < whole; width++) {
    if (wrapWords(header, width, true).length <= lines) return width;
  }
  return whole;
}

function widthOf(one: Measured, lines: number): number {
  return Math.max(one.body, one.headers[lines - 1] ?? 1);
}

function total(widths: readonly number[]): number {
  return widths.reduce((sum, width) => sum + width, 0) + GAP * Math.max(0, widths.length - 1);
}

interface Room {
  readonly of: readonly Measured[];
  readonly widths: readonly number[];
}

/** Widths that fit, with as little harm as possible; undefined if there are none. */
function roomFor(columns: readonly Measured[], width: number): Room | undefined {
  const short = columns.map(shortened);
  const ways = [
    ...[columns, short].map((of) => ({ of, widthsOf: wholeWidths(of) })),
    { of: short, widthsOf: (lines: number) => cutText(short, lines, width, (one) => one.telling) },
  ];
  for (const { of, widthsOf } of ways) {
    for (const lines of WRAPS) {
      const widths = widthsOf(lines);
      if (total(widths) <= width) return { of, widths };
    }
  }
  return undefined;
}

function wholeWidths(columns: readonly Measured[]): (lines: number) => readonly number[] {
  return (lines) => columns.map((column) => widthOf(column, lines));
}

function tightest(columns: readonly Measured[], width: number): Room {
  const of = columns.map(shortened);
  return { of, widths: cutText(of, WRAPS.length + 1, width, () => SHORTEST_TEXT) };
}

/** Takes from the widest text column, a step at a time, until the table fits or none can give. */
function cutText(
  columns: readonly Measured[],
  lines: number,
  width: number,
  leastOf: (one: Measured) => number,
): readonly number[] {
  const widths = columns.map((column) => widthOf(column, lines));
  const floors = columns.map((one, index) =>
    one.column.align === 'left'
      ? Math.max(one.headers[lines - 1] ?? 1, Math.min(one.body, leastOf(one)))
      : (widths[index] ?? 1),
  );
  for (let excess = total(widths) - width; excess > 0; excess--) {
    let widest = -1;
    for (const [index, wide] of widths.entries()) {
      if (wide > (floors[index] ?? 1) && wide > (widths[widest] ?? 0)) widest = index;
    }
    if (widest === -1) break;
    widths[widest] = (widths[widest] ?? 1) - 1;
  }
  return widths;
}

function nextToLeaveOut(columns: readonly Measured[]): Measured | undefined {
  let next: Measured | undefined;
  for (const one of columns) {
    if (one.column.drop > 0 && one.column.drop >= (next?.column.drop ?? 0)) next = one;
  }
  return next;
}

function cutToFit(
  { column, header, body }: Measured,
  width: number,
  ellipsis: string,
): FittedColumn & { readonly shortened: boolean } {
  const { cells, shortened } = cutCells(column, body, width, ellipsis);
  return {
    header: wrapWords(header, width, true),
    align: column.align,
    width,
    cells,
    shortened,
  };
}

/**
 * The cells of a column in lines of `width`: wrapped at blanks, and what would take too many lines
 * cut in the middle, so that no two come to look alike.
 */
function cutCells(
  column: PeopleColumn,
  body: number,
  width: number,
  ellipsis: string,
): { readonly cells: readonly (readonly string[])[]; readonly shortened: boolean } {
  if (column.align !== 'left' || body <= width) {
    return { cells: column.cells.map((cell) => [cell]), shortened: false };
  }
  const most = body > LONGEST_NAME ? SENTENCE_LINES : NAME_LINES;
  const wrapped = column.cells.map((cell) => wholeIn(cell, width, most));
  if (wrapped.every((lines) => lines !== undefined)) return { cells: wrapped, shortened: false };
  if (most === SENTENCE_LINES) {
    // A sentence is cut at its end, unless it would then read as another one does.
    const ended = column.cells.map(
      (cell, at) => wrapped[at] ?? endedAfter(cell, width, most, ellipsis),
    );
    const alike = new Set(ended.map((lines) => lines.join(' '))).size;
    if (alike === new Set(column.cells).size) return { cells: ended, shortened: true };
  }
  // A wide letter may leave a column free at the end of each line.
  const labels = distinctLabels(column.cells, (width - 1) * most, ellipsis);
  const cells = wrapped.map(
    (lines, at) => lines ?? pieces(labels.get(column.cells[at] ?? '') ?? '', width),
  );
  return { cells, shortened: true };
}

/** A cell wrapped into at most so many lines; undefined where that is not enough. */
function wholeIn(cell: string, width: number, most: number): readonly string[] | undefined {
  if (!isWider(cell, width)) return [cell];
  if (isWider(cell, width * (most + 1))) return undefined;
  const lines = wrapWords(cell, width);
  return lines.length <= most ? lines : undefined;
}

/** The first lines of a text, with the ellipsis as their end. */
function endedAfter(
  text: string,
  width: number,
  most: number,
  ellipsis: string,
): readonly string[] {
  const lines = wrapWords(headOf(text, width * (most + 1)), width).slice(0, most);
  const last = headOf(lines.at(-1) ?? '', width - displayWidth(ellipsis)).trimEnd();
  return [...lines.slice(0, -1), last + ellipsis];
}

/** Text broken wherever the width ends. */
function pieces(text: string, width: number): readonly string[] {
  const lines: string[] = [];
  let line = '';
  for (const letter of graphemesOf(text)) {
    if (line !== '' && displayWidth(line + letter) > width) {
      lines.push(line);
      line = '';
    }
    line += letter;
  }
  return [...lines, line];
}
