import { diagnose } from '../diagnostics/diagnostic.ts';
import { entryRootFlow, entryUnreadable, tidyUnsafe } from '../diagnostics/words/entry-placing.ts';
import { SECTIONS } from '../entries/catalogue.ts';
import { decode } from '../reading/decode.ts';
import { readYaml } from '../reading/yaml-read.ts';
import type { SourceFile } from '../source/source-file.ts';
import { applyEdits, type Edit } from './edit.ts';
import { type FileMap, isFileMap } from './new-entry.ts';
import { type Refusal, refusal } from './outcome.ts';
import { encoded, type NotRecorded } from './record-entries.ts';
import { isBlockPlain, looksLikeAnother, quoted, renderFlow } from './render-entry.ts';
import { sameValue } from './same-value.ts';
import { type Store, StoreFault } from './store.ts';
import { isBlank, lineOf, textLines } from './text-lines.ts';
import { tidySeasonLines } from './tidy-season.ts';
import { dateOf, inDateOrder } from './tidy-section.ts';
import {
  asMap,
  bracketsOf,
  commentsOf,
  endOf,
  isFlow,
  plainValue,
  rootNode,
  scalarsOf,
  startOf,
} from './yaml-nodes.ts';

/** A file in its canonical form. */
interface Tidied {
  readonly kind: 'tidied';
  readonly file: SourceFile;
  readonly changed: boolean;
}

/**
 * The one canonical form of a ledger file. A season file gets its sections and entries in order, an
 * entry on one line where it fits 100 columns, keys in order, only quotes that are needed; the other
 * files keep their author's order and form, and get only quotes and spaces put right.
 *
 * Comments are kept, each once; the file says the same as before; a second time changes nothing.
 */
export function tidyText(file: SourceFile): Tidied | Refusal {
  const read = readYaml(file);
  if (read.diagnostics.length > 0) return refusal(...read.diagnostics);
  const eol = /\r\n/.test(file.text) ? '\r\n' : '\n';
  const source = file.text.replaceAll('\r\n', '\n');
  const node = rootNode(source);
  const root = asMap(node);
  const isSeason = file.path.startsWith('seasons/');
  if (isSeason && isFlow(root)) return refused(file, entryRootFlow, {});
  if (read.value !== undefined && read.value !== null && root === undefined) {
    return refused(file, entryUnreadable, {});
  }
  const made =
    root === undefined || root.items.length === 0
      ? source
      : isSeason
        ? tidySeasonLines(source, root).join('\n')
        : tidyPlainText(source, root);
  const whole = made.trim() === '' ? '' : `${trimmedEnd(made)}\n`;
  const text = whole.replaceAll('\n', eol);
  const result: SourceFile = { ...file, text };
  const what = whatChanged(file, read.value, result, isSeason);
  if (what !== undefined) return refused(file, tidyUnsafe, { what });
  return { kind: 'tidied', file: result, changed: text !== file.text };
}

function trimmedEnd(text: string): string {
  return text.replace(/[ \n]+$/, '');
}

/** What the new text would lose or change, if anything. */
function whatChanged(
  file: SourceFile,
  value: unknown,
  made: SourceFile,
  isSeason: boolean,
): string | undefined {
  const read = readYaml(made);
  if (read.diagnostics.length > 0) {
    return `it would not be YAML: ${read.diagnostics[0]?.message ?? ''}`;
  }
  const same = sameValue(read.value ?? null, value ?? null);
  const ordered = isSeason && isFileMap(value) && isFileMap(read.value);
  if (!same && !(ordered && isReordered(value, read.value))) return 'a value would change';
  const texts = (text: string) => commentsOf(text.replaceAll('\r\n', '\n')).map((one) => one.text);
  const kept = sameValue(texts(file.text).sort(), texts(made.text).sort());
  return kept ? undefined : 'a comment would be lost';
}

/** Whether sections differ in nothing but that their entries now stand in date order. */
function isReordered(value: FileMap, made: FileMap): boolean {
  const lists: readonly string[] = SECTIONS;
  if (!sameValue(Object.keys(value).sort(), Object.keys(made).sort())) return false;
  return Object.entries(value).every(([key, list]) => {
    if (sameValue(list, made[key])) return true;
    if (!lists.includes(key) || !Array.isArray(list)) return false;
    const dated = list.map((entry: unknown) => ({ entry, date: dateOf(entry) }));
    return sameValue(
      inDateOrder(dated).map(({ entry }) => entry),
      made[key],
    );
  });
}

function refused<Facts>(
  file: SourceFile,
  words: Parameters<typeof diagnose<Facts>>[0],
  facts: Facts,
): Refusal {
  return refusal(diagnose(words, { file, start: 0, end: 0 }, facts));
}

/**
 * A file whose order and form are its author's: only quotes that are not needed, quotes that are
 * missing, spaces inside brackets on one line, loose spaces and runs of blank lines change.
 */
function tidyPlainText(source: string, root: unknown): string {
  const edits: Edit[] = [];
  const inBrackets: [number, number][] = [];
  for (const node of bracketsOf(root)) {
    const [at, end] = [startOf(node), endOf(node)];
    inBrackets.push([at, end]);
    const written = source.slice(at, end);
    if (!written.includes('\n')) replace(edits, at, written, renderFlow(plainValue(node)));
  }
  for (const { node, isKey } of scalarsOf(root)) {
    const [at, end] = [startOf(node), endOf(node)];
    if (inBrackets.some(([from, to]) => at >= from && end <= to)) continue;
    const written = source.slice(at, end);
    if (typeof node.value !== 'string' || written.includes('\n')) continue;
    if (/^["']/.test(written) && isBlockPlain(node.value)) replace(edits, at, written, node.value);
    if (written === node.value && looksLikeAnother(node.value) && node.value !== 'on' && !isKey) {
      replace(edits, at, written, quoted(node.value));
    }
  }
  return calm(applyEdits(source, edits));
}

function replace(edits: Edit[], at: number, written: string, wanted: string): void {
  if (written !== wanted) edits.push({ at, remove: written.length, insert: wanted });
}

/** Without loose spaces and runs of blank lines, but not inside texts of several lines. */
function calm(source: string): string {
  const text = textLines(source);
  const held = heldLines(source);
  const lines: string[] = [];
  for (const [index, line] of text.lines.entries()) {
    if (held.has(index)) {
      lines.push(line);
      continue;
    }
    const run = isBlank(line) && isBlank(lines.at(-1)) && !held.has(index - 1);
    if (!run) lines.push(line.trimEnd());
  }
  return lines.join('\n');
}

function heldLines(source: string): ReadonlySet<number> {
  const text = textLines(source);
  const held = new Set<number>();
  for (const { node } of scalarsOf(rootNode(source))) {
    const [from, to] = [lineOf(text, startOf(node)), lineOf(text, Math.max(0, endOf(node) - 1))];
    for (let line = from; from < to && line <= to; line++) held.add(line);
  }
  return held;
}

interface TidyFault {
  readonly kind: 'failed';
  readonly fault: NonNullable<NotRecorded['fault']>;
}

/** Puts a file on the disk in canonical form. A file that is changed meanwhile is left alone. */
export async function tidyStored(
  store: Store,
  path: string,
): Promise<Tidied | Refusal | TidyFault> {
  try {
    return await store.whileLocked(path, async (held) => {
      const stored = await held.read();
      if (stored === undefined) throw new StoreFault(path, 'ENOENT', 'it does not exist', '');
      const decoded = decode({ path, bytes: stored.bytes, size: stored.bytes.length });
      if (decoded.diagnostics.length > 0) return refusal(...decoded.diagnostics);
      const tidied = tidyText(decoded.file);
      if (tidied.kind === 'refused' || !tidied.changed) return tidied;
      const outcome = await held.writeIfUnchanged(encoded(tidied.file), stored.mark);
      if (outcome === 'written') return tidied;
      throw new StoreFault(
        path,
        'CHANGED',
        'it was changed while it was put in order',
        'try again',
      );
    });
  } catch (thrown) {
    if (!(thrown instanceof StoreFault)) throw thrown;
    const { code, message, advice } = thrown;
    return { kind: 'failed', fault: { code, message, advice } };
  }
}
