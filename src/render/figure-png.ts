import { initWasm, Resvg } from '@resvg/resvg-wasm';

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

/**
 * A PNG with words in it, by their keywords, and the size at which it is meant to be seen.
 *
 * Source: ISO/IEC 15948:2004 (PNG): chunk layout, cyclic redundancy code, iTXt, pHYs.
 *
 * @param png whole
 * @param density pixels for each of 96 to the inch
 * @param words Latin keywords of 1 to 79 letters, each with any text
 */
function withPngWords(
  png: Uint8Array,
  density: number,
  words: Readonly<Record<string, string>>,
): Uint8Array {
  const aMetre = number(Math.round((density * 96) / 0.0254));
  return Uint8Array.from(
    Buffer.concat([
      png.subarray(0, HEAD),
      chunk('pHYs', Buffer.concat([aMetre, aMetre, METRE])),
      ...Object.entries(words).map(([keyword, text]) =>
        // Not compressed, of no language that is known, the keyword not translated.
        chunk('iTXt', Buffer.concat([Buffer.from(keyword), Buffer.alloc(5), Buffer.from(text)])),
      ),
      png.subarray(HEAD),
    ]),
  );
}

/** The signature, and the first chunk, which says how large the picture is. */
const HEAD = 8 + 25;
/** The unit of pHYs. */
const METRE = Buffer.from([1]);

function number(value: number): Buffer {
  const bytes = Buffer.alloc(4);
  bytes.writeUInt32BE(value);
  return bytes;
}

function chunk(kind: string, data: Buffer): Buffer {
  const told = Buffer.concat([Buffer.from(kind), data]);
  return Buffer.concat([number(data.length), told, number(crc(told))]);
}

/** CRC-32; Node has one of its own only from 20.15 on. */
function crc(bytes: Uint8Array): number {
  let value = 0xffffffff;
  for (const byte of bytes) {
    value ^= byte;
    for (let bit = 0; bit < 8; bit++) value = (value >>> 1) ^ (value & 1 ? 0xedb88320 : 0);
  }
  return ~value >>> 0;
}
