import { displayWidth, graphemesOf } from '../source/display-width.ts';

/**
 * Characters for private use that stand in for others, one display column each, so that a layout
 * made with simpler measures comes out right.
 */
export class StandIns {
  readonly #meant = new Map<string, string>();
  readonly #given = new Map<string, string>();

  /** The line with a stand-in for each character that is not ASCII, as wide as it displays. */
  put(line: string): string {
    if (ASCII.test(line)) return line;
    const parts: string[] = [];
    let unplaced = '';
    for (const grapheme of graphemesOf(line)) {
      const last = parts.length - 1;
      if (displayWidth(grapheme) > 0) {
        parts.push(unplaced + grapheme);
        unplaced = '';
      } else if (last < 0) unplaced += grapheme;
      else parts[last] += grapheme;
    }
    return parts.map((part) => this.#standInFor(part)).join('');
  }

  /** The text with everything that was put in place of something turned back. */
  takeBack(text: string): string {
    let back = '';
    for (const character of text) {
      if (character !== FILLER) back += this.#meant.get(character) ?? character;
    }
    return back;
  }

  #standInFor(part: string): string {
    let one = this.#given.get(part);
    if (one === undefined) {
      one = String.fromCodePoint(FIRST + this.#given.size);
      this.#given.set(part, one);
      this.#meant.set(one, part);
    }
    return one + FILLER.repeat(displayWidth(part) - 1);
  }
}

const ASCII = /^[\u0020-\u007e]*$/;
/** Planes 15 and 16 are for private use (Unicode Standard, 23.5). */
const FIRST = 0xf_0000;
const FILLER = String.fromCodePoint(0x10_0000);
