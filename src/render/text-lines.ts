import { displayWidth, graphemesOf } from '../source/display-width.ts';

/**
 * Words in lines of at most `width` columns. A word wider than that is broken, unless `keepWords`,
 * where it stands out. Runs of blanks become one.
 */
export function wrapWords(text: string, width: number, keepWords = false): readonly string[] {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(/\s+/u).filter((one) => one !== '')) {
    for (const piece of keepWords ? [word] : piecesOf(word, width)) {
      const longer = line === '' ? piece : `${line} ${piece}`;
      if (line !== '' && displayWidth(longer) > width) {
        lines.push(line);
        line = piece;
      } else {
        line = longer;
      }
    }
  }
  return line === '' && lines.length > 0 ? lines : [...lines, line];
}

/** Wraps text behind a lead; lines after the first are indented by the width of `indent`. */
export function hang(lead: string, text: string, width: number): readonly string[] {
  const indent = ' '.repeat(displayWidth(lead));
  return wrapWords(text, Math.max(1, width - indent.length)).map((line, index) =>
    `${index === 0 ? lead : indent}${line}`.trimEnd(),
  );
}

function piecesOf(word: string, width: number): readonly string[] {
  if (displayWidth(word) <= width) return [word];
  const pieces: string[] = [];
  let piece = '';
  let taken = 0;
  for (const grapheme of graphemesOf(word)) {
    const wide = displayWidth(grapheme);
    if (taken + wide > width && piece !== '') {
      pieces.push(piece);
      piece = '';
      taken = 0;
    }
    piece += grapheme;
    taken += wide;
  }
  return [...pieces, piece];
}
