import { type Diagnostic, diagnose } from '../diagnostics/diagnostic.ts';
import { fileNotUtf8, fileTooLarge } from '../diagnostics/words/reading.ts';
import type { SourceFile } from '../source/source-file.ts';
import { MAX_FILE_BYTES, type RawFile } from './raw-file.ts';

export interface Decoded {
  readonly file: SourceFile;
  readonly diagnostics: readonly Diagnostic[];
}

const REPLACEMENT = '�';

/** Bytes to text. UTF-8 only; a byte order mark is taken off and remembered. */
export function decode(raw: RawFile): Decoded {
  if (raw.bytes === undefined) {
    const file = { path: raw.path, text: '', bom: false };
    const facts = { megabytes: Math.round(raw.size / 1e6), limit: MAX_FILE_BYTES / 1e6 };
    return { file, diagnostics: [diagnose(fileTooLarge, { file, start: 0, end: 0 }, facts)] };
  }
  const text = new TextDecoder('utf-8', { ignoreBOM: true }).decode(raw.bytes);
  const bom = text.startsWith('\ufeff');
  const file = { path: raw.path, text: bom ? text.slice(1) : text, bom };
  const broken = text.includes(REPLACEMENT) ? firstBrokenByte(raw.bytes, file.text) : undefined;
  if (broken === undefined) return { file, diagnostics: [] };
  const at = { file, start: broken, end: broken + 1 };
  return { file, diagnostics: [diagnose(fileNotUtf8, at, {})] };
}

/**
 * Offset of the first replacement character that the decoder put in, or undefined where every one
 * of them was typed by the author, which is legal text.
 */
function firstBrokenByte(bytes: Uint8Array, text: string): number | undefined {
  try {
    new TextDecoder('utf-8', { fatal: true }).decode(bytes);
    return undefined;
  } catch {
    return text.indexOf(REPLACEMENT);
  }
}
