import { inflateSync } from 'node:zlib';

/** A PNG of eight bits a channel with alpha, not interlaced, as ISO/IEC 15948 tells how to read it. */
export interface ReadPng {
  readonly width: number;
  readonly height: number;
  /** Pixels a metre, across. */
  readonly density: number;
  /** By keyword. */
  readonly words: ReadonlyMap<string, string>;
  /** Red, green, blue and alpha, 0 to 255. */
  at(x: number, y: number): readonly number[];
}

const SIGNATURE = [137, 80, 78, 71, 13, 10, 26, 10];

export function readPng(png: Uint8Array): ReadPng {
  const bytes = Buffer.from(png);
  if (SIGNATURE.some((byte, at) => bytes[at] !== byte)) throw new Error('no PNG');
  const words = new Map<string, string>();
  const data: Buffer[] = [];
  let [width, height, density] = [0, 0, 0];
  for (let at = 8; at < bytes.length; ) {
    const length = bytes.readUInt32BE(at);
    const kind = bytes.toString('latin1', at + 4, at + 8);
    const told = bytes.subarray(at + 8, at + 8 + length);
    if (bytes.readUInt32BE(at + 8 + length) !== crcOf(bytes.subarray(at + 4, at + 8 + length))) {
      throw new Error(`the check sum of ${kind} is wrong`);
    }
    if (kind === 'IHDR') {
      [width, height] = [told.readUInt32BE(0), told.readUInt32BE(4)];
      if (told[8] !== 8 || told[9] !== 6 || told[12] !== 0) throw new Error('another kind of PNG');
    }
    if (kind === 'pHYs') density = told.readUInt32BE(0);
    if (kind === 'IDAT') data.push(told);
    if (kind === 'iTXt') {
      const end = told.indexOf(0);
      words.set(told.toString('latin1', 0, end), told.toString('utf8', end + 5));
    }
    at += 12 + length;
  }
  const pixels = unfiltered(inflateSync(Buffer.concat(data)), width * 4, height);
  const at = (x: number, y: number) => [
    ...pixels.subarray(4 * (y * width + x), 4 * (y * width + x) + 4),
  ];
  return { width, height, density, words, at };
}

/** The table of the standard's annex, made as it is made there. */
const TABLE = Array.from({ length: 256 }, (_, byte) => {
  let value = byte;
  for (let bit = 0; bit < 8; bit++) value = value & 1 ? 0xedb88320 ^ (value >>> 1) : value >>> 1;
  return value >>> 0;
});

function crcOf(bytes: Uint8Array): number {
  const value = bytes.reduce(
    (rest, byte) => ((TABLE[(rest ^ byte) & 255] ?? 0) ^ (rest >>> 8)) >>> 0,
    0xffffffff,
  );
  return (value ^ 0xffffffff) >>> 0;
}

/** Rows of bytes, each of which was told by its difference from those left of it and above it. */
function unfiltered(filtered: Buffer, across: number, rows: number): Buffer {
  const out = Buffer.alloc(across * rows);
  for (let row = 0; row < rows; row++) {
    const filter = filtered[row * (across + 1)] ?? 0;
    for (let x = 0; x < across; x++) {
      const left = x < 4 ? 0 : (out[row * across + x - 4] ?? 0);
      const up = row === 0 ? 0 : (out[(row - 1) * across + x] ?? 0);
      const corner = x < 4 || row === 0 ? 0 : (out[(row - 1) * across + x - 4] ?? 0);
      const guess = [0, left, up, (left + up) >> 1, paeth(left, up, corner)][filter] ?? 0;
      out[row * across + x] = (filtered[row * (across + 1) + 1 + x] ?? 0) + guess;
    }
  }
  return out;
}

function paeth(left: number, up: number, corner: number): number {
  const middle = left + up - corner;
  const [a, b, c] = [left, up, corner].map((one) => Math.abs(middle - one)) as [
    number,
    number,
    number,
  ];
  if (a <= b && a <= c) return left;
  return b <= c ? up : corner;
}
