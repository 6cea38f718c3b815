import { decode, MAX_FILE_BYTES } from '../../reading/decode.ts';
import type { SourceFile } from '../../source/source-file.ts';
import { FileFault, type Host } from '../host.ts';

/** A text file from outside the ledger. Throws a `FileFault` for what is no text. */
export function readText(host: Host, path: string, name: string): SourceFile {
  const kind = host.files.kind(path);
  if (kind === 'folder') throw new FileFault(path, 'EISDIR', 'it is a folder, not a file');
  if (kind === 'file' && host.files.size(path) > MAX_FILE_BYTES) {
    throw new FileFault(path, 'EFBIG', `it is larger than ${MAX_FILE_BYTES / 1e6} MB`);
  }
  const bytes = host.files.read(path);
  const { file, diagnostics } = decode({ path: name, bytes, size: bytes.length });
  if (diagnostics.length > 0) {
    throw new FileFault(path, 'EILSEQ', 'it is no UTF-8 text; save it as UTF-8');
  }
  return file;
}
