import { type Diagnostic, diagnose } from '../diagnostics/diagnostic.ts';
import { fileNotUtf8, fileTooLarge } from '../diagnostics/words/reading.ts';
import type { SourceFile } from '../source/source-file.ts';

export interface Decoded {
  readonly file: SourceFile;
  readonly diagnostics: readonly Diagnostic[];
}

/** Bytes to text. UTF-8 only; a byte order mark is taken off and remembered. */
export function decode(raw: RawFile): Decoded {
  if (raw.bytes === undefined) {
    const file = Object.freeze({ path: raw.path, text: '', bom: false });
    const facts = { megabytes: Math.ceil(raw.size / 1e6), limit: MAX_FILE_BYTES / 1e6 };
    return { file, diagnostics: [diagnose(fileTooLarge, { file, start: 0, end: 0 }, facts)] };
  }
  const text = new TextDecoder('utf-8', { ignoreBOM: true }).decode(raw.bytes);
  const bom = text.startsWith('\ufeff');
  const file = Object.freeze({ path: raw.path, text: bom ? text.slice(1) : text, bom });
  if (!text.includes(REPLACEMENT) || isUtf8(raw.bytes)) return { file, diagnostics: [] };
  const broken = Math.max(0, soundBeginning(raw.bytes).length - (bom ? 1 : 0));
  const at = { file, start: broken, end: broken + 1 };
  return { file, diagnostics: [diagnose(fileNotUtf8, at, {})] };
}

/** What the decoder puts in place of bytes that are no UTF-8; an author may also have typed it. */
const REPLACEMENT = '\ufffd';

function isUtf8(bytes: Uint8Array): boolean {
  try {
    new TextDecoder('utf-8', { fatal: true }).decode(bytes);
    return true;
  } catch {
    return false;
  }
}

/** The text before the first byte that is no UTF-8, found by halving. */
function soundBeginning(bytes: Uint8Array): string {
  const textOf = (length: number): string | undefined => {
    try {
      const decoder = new TextDecoder('utf-8', { fatal: true, ignoreBOM: true });
      return decoder.decode(bytes.subarray(0, length), { stream: true });
    } catch {
      return undefined;
    }
  };
  let sound = 0;
  let unsound = bytes.length + 1;
  while (unsound - sound > 1) {
    const middle = (sound + unsound) >> 1;
    if (textOf(middle) === undefined) unsound = middle;
    else sound = middle;
  }
  return textOf(sound) ?? '';
}

/** A file of the ledger as bytes, before anything is known about it. */
export interface RawFile {
  /** Path relative to the ledger folder, with forward slashes. */
  readonly path: string;
  /** Absent where the file was too large to be read. */
  readonly bytes: Uint8Array | undefined;
  /** Size in bytes. */
  readonly size: number;
}

/**
 * Largest file that is read, in bytes. A season of 10,000 entries has about 1 MB; reading a file of
 * this size takes at worst some 500 MB of memory, which any computer of today has.
 */
export const MAX_FILE_BYTES = 5_000_000;
