import { join, resolve } from 'node:path';
import { decode, MAX_FILE_BYTES } from '../../reading/decode.ts';
import { MERGED_FILES } from '../../reading/starter-ledger.ts';
import { visible } from '../../source/visible.ts';
import { mergeTexts, plainConflict, type Texts } from '../../writing/merge/merge-texts.ts';
import { EXIT, type ExitCode } from '../exit.ts';
import type { Host } from '../host.ts';
import { DRIVER_COMMAND } from '../merge-driver.ts';
import { readText } from './read-text.ts';

/**
 * Joins two versions of a file into the one of this branch, as git asks of a merge driver. Gives the
 * exit status where it is not 0.
 *
 * @param files paths of the three versions
 * @param path what the file is called, for what is said of it
 */
export function mergeFiles(host: Host, files: Texts, path: string): ExitCode | undefined {
  const [base, ours, theirs] = [files.base, files.ours, files.theirs].map((name) =>
    readBytes(host, name),
  ) as [Uint8Array, Uint8Array, Uint8Array];
  const target = resolve(host.cwd, files.ours);
  const say = (text: string) => host.stderr.write(`pomary: ${visible(`${path}: ${text}`)}\n`);
  const texts = [base, ours, theirs].map((bytes) => textOf(path, bytes));
  const [before, mine, other] = texts;
  if (before === undefined || mine === undefined || other === undefined) {
    // Byte by byte, so that nothing is lost of what is no text.
    const latin = (bytes: Uint8Array) => Buffer.from(bytes).toString('latin1');
    const { text } = plainConflict({ ours: latin(ours), theirs: latin(theirs) });
    host.files.write(target, Buffer.from(text, 'latin1'));
    say(`not joined: a version is no UTF-8 text or has more than ${MAX_FILE_BYTES / 1e6} MB`);
    return EXIT.ledgerErrors;
  }
  const { text, conflicts, why, notes } = mergeTexts(path, {
    base: before,
    ours: mine,
    theirs: other,
  });
  if (text !== mine) host.files.write(target, text);
  for (const note of notes) say(note);
  if (conflicts.length === 0) return undefined;
  const lines = `line${conflicts.length === 1 ? '' : 's'} ${conflicts.join(', ')}`;
  const what =
    why === undefined
      ? `two versions of an entry do not go together, at ${lines}`
      : `not joined entry by entry, since ${why}; both versions stand from ${lines} on`;
  say(
    `${what}; keep what is right, take away the lines with <<<<<<<, ======= and >>>>>>>, then git add it`,
  );
  return EXIT.ledgerErrors;
}

/** An empty file is not waited for: git makes one where there was none before. */
function readBytes(host: Host, name: string): Uint8Array {
  const path = resolve(host.cwd, name);
  return host.files.size(path) === 0 ? new Uint8Array() : host.files.read(path);
}

/** With its byte order mark; undefined where it is no text that could be joined. */
function textOf(path: string, bytes: Uint8Array): string | undefined {
  const size = bytes.length;
  const { file, diagnostics } = decode({
    path,
    bytes: size > MAX_FILE_BYTES ? undefined : bytes,
    size,
  });
  if (diagnostics.length > 0) return undefined;
  return file.bom ? `\ufeff${file.text}` : file.text;
}

/** Marks the files of a ledger for git, and tells what is left to do. Other lines stay as they are. */
export function setUpMerging(host: Host, folder: string): void {
  const path = join(folder, '.gitattributes');
  const isThere = host.files.kind(path) !== 'none';
  const before = isThere ? readText(host, path, '.gitattributes').text : '';
  if (/^[^#\n]*\bmerge=pomary\b/m.test(before)) {
    host.stdout.write('.gitattributes names the files already.\n');
  } else {
    const eol = before.includes('\r\n') ? '\r\n' : '\n';
    const gap = before === '' ? '' : before.endsWith('\n') ? eol : eol + eol;
    host.files.write(path, before + gap + MERGED_FILES.replaceAll('\n', eol));
    host.stdout.write('wrote .gitattributes; commit it, so that everyone has it\n');
  }
  host.stdout.write(`Then tell git, once on each computer:\n  ${DRIVER_COMMAND}\n`);
}
