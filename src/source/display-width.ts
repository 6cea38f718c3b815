import stringWidth from 'string-width';

/** Columns that text takes on a terminal; wide characters take two, combining marks none. */
export function displayWidth(text: string): number {
  return stringWidth(text);
}

/** Text as the characters a person sees: letters keep their marks, emoji stay whole. */
export function graphemesOf(text: string): readonly string[] {
  if (PLAIN.test(text)) return text.split('');
  segmenter ??= new Intl.Segmenter();
  return Array.from(segmenter.segment(text), (one) => one.segment);
}

/** The longest beginning of the text that takes at most `width` columns; no character is split. */
export function headOf(text: string, width: number): string {
  let head = '';
  let taken = 0;
  for (const grapheme of graphemesOf(text)) {
    taken += displayWidth(grapheme);
    if (taken > width) break;
    head += grapheme;
  }
  return head;
}

/** The longest end of the text that takes at most `width` columns; no character is split. */
export function tailOf(text: string, width: number): string {
  let tail = '';
  let taken = 0;
  for (const grapheme of graphemesOf(text).toReversed()) {
    taken += displayWidth(grapheme);
    if (taken > width) break;
    tail = grapheme + tail;
  }
  return tail;
}

const PLAIN = /^[\u0020-\u007e]*$/;

/** Made at the first need: most ledgers are plain letters throughout. */
let segmenter: Intl.Segmenter | undefined;
