import { initWasm, Resvg } from '@resvg/resvg-wasm';
import { withPngWords } from './png-words.ts';

/** What pictures are drawn with. */
export interface DrawingKit {
  /** The renderer itself, as WebAssembly. */
  readonly renderer: Uint8Array;
  /** TrueType, all of one family. */
  readonly fonts: readonly Uint8Array[];
}

/** The family of the fonts that the program brings along. */
const FAMILY = 'Arimo';

let ready: Promise<void> | undefined;

/**
 * The picture as PNG (ISO/IEC 15948), with its title and its description in it. Letters are those
 * of the kit alone, so that it is the same on every machine, with fonts or without.
 *
 * @param svg without style sheets for the dark
 * @param density pixels for each of the picture
 */
export async function pngOf(
  svg: string,
  { renderer, fonts }: DrawingKit,
  words: { readonly title: string; readonly description: string },
  density: number,
): Promise<Uint8Array> {
  ready ??= initWasm(new Uint8Array(renderer));
  await ready;
  const drawing = new Resvg(svg, {
    fitTo: { mode: 'zoom', value: density },
    font: { fontBuffers: [...fonts], defaultFontFamily: FAMILY, sansSerifFamily: FAMILY },
  });
  const picture = drawing.render();
  try {
    return withPngWords(picture.asPng(), density, {
      Title: words.title,
      Description: words.description,
    });
  } finally {
    picture.free();
    drawing.free();
  }
}
