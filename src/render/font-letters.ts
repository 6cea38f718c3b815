/**
 * The letters of a text that a TrueType font has no shape for, each once: they would be drawn as
 * empty boxes. Blanks and marks that are not seen count as had.
 *
 * Source: OpenType 1.9.1, `cmap`, subtable of format 4, which all fonts for the web have.
 */
export function lettersWithoutShape(font: Uint8Array, text: string): readonly string[] {
  const letters = [...new Set(text)].filter((letter) => !/[\s\p{C}\p{M}]/u.test(letter));
  const shapeOf = shapes(new DataView(font.buffer, font.byteOffset, font.byteLength));
  return letters.filter((letter) => shapeOf(letter.codePointAt(0) ?? 0) === 0);
}

/** The number of the shape of a code point; 0 where there is none. */
function shapes(font: DataView): (code: number) => number {
  const table = subtable(font);
  if (table === undefined) return () => 0;
  const length = font.getUint16(table + 6);
  // Four lists of one number a segment: last code, first code, what to add, where a list of shapes is.
  const last = table + 14;
  const first = last + length + 2;
  const added = first + length;
  const lists = added + length;
  return (code) => {
    for (let at = 0; at < length; at += 2) {
      if (code > font.getUint16(last + at)) continue;
      const from = font.getUint16(first + at);
      if (code < from) return 0;
      const list = font.getUint16(lists + at);
      if (list === 0) return (code + font.getUint16(added + at)) % 0x10000;
      return font.getUint16(lists + at + list + 2 * (code - from));
    }
    return 0;
  };
}

function subtable(font: DataView): number | undefined {
  const tagged = (at: number) =>
    String.fromCharCode(...[0, 1, 2, 3].map((letter) => font.getUint8(at + letter)));
  const tables = Array.from({ length: font.getUint16(4) }, (_, at) => 12 + 16 * at);
  const record = tables.find((at) => tagged(at) === 'cmap');
  if (record === undefined) return undefined;
  const cmap = font.getUint32(record + 8);
  return Array.from({ length: font.getUint16(cmap + 2) }, (_, at) => cmap + 4 + 8 * at)
    .map((at) => cmap + font.getUint32(at + 4))
    .find((at) => font.getUint16(at) === 4);
}
