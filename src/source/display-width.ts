import { stringWidth } from './late.ts';

/** Columns that text takes on a terminal; wide characters take two, combining marks none. */
export function displayWidth(text: string): number {
  return ONE_COLUMN.test(text) ? text.length : stringWidth(text);
}

/** Text as the characters a person sees: letters keep their marks, emoji stay whole. */
export function graphemesOf(text: string): readonly string[] {
  if (PLAIN.test(text)) return text.split('');
  segmenter ??= new Intl.Segmenter();
  return Array.from(segmenter.segment(text), (one) => one.segment);
}

/**
 * Whether text takes more than `width` columns. Looks at no more of it than that width can need,
 * since measuring a long text that is not ASCII takes more than its share of time.
 */
export function isWider(text: string, width: number): boolean {
  return text.length > width * REACH || displayWidth(text) > width;
}

/** The longest beginning of the text that takes at most `width` columns; no character is split. */
export function headOf(text: string, width: number): string {
  const near = text.slice(0, width * REACH).replace(/[\ud800-\udbff]$/, '');
  let head = '';
  let taken = 0;
  for (const grapheme of graphemesOf(near)) {
    taken += displayWidth(grapheme);
    if (taken > width) break;
    head += grapheme;
  }
  return head;
}

/** The longest end of the text that takes at most `width` columns; no character is split. */
export function tailOf(text: string, width: number): string {
  const near = width > 0 ? text.slice(-width * REACH).replace(/^[\udc00-\udfff]/, '') : '';
  let tail = '';
  let taken = 0;
  for (const grapheme of graphemesOf(near).toReversed()) {
    taken += displayWidth(grapheme);
    if (taken > width) break;
    tail = grapheme + tail;
  }
  return tail;
}

/** Code units that one column of width may hold: a letter with its marks, or a joined emoji. */
export const REACH = 12;

const PLAIN = /^[\u0020-\u007e]*$/;

/** Also Latin letters, dashes, quotation marks and what strips are drawn of: a column for each code unit. */
const ONE_COLUMN =
  /^[\u0020-\u007e\u00a1-\u00a8\u00aa-\u00ac\u00af-\u024f\u2010-\u2015\u2018-\u201e\u2026\u2500-\u257f\u25cf]*$/;

/** Made at the first need: most ledgers are plain letters throughout. */
let segmenter: Intl.Segmenter | undefined;
