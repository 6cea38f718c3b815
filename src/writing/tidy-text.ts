import { diagnose } from '../diagnostics/diagnostic.ts';
import { entryRootFlow, entryUnreadable, tidyUnsafe } from '../diagnostics/words/entry-placing.ts';
import { SECTIONS } from '../entries/catalogue.ts';
import { readYaml } from '../reading/yaml-read.ts';
import type { SourceFile } from '../source/source-file.ts';
import { type Fields, isFields } from './new-entry.ts';
import { type Refusal, refusal } from './outcome.ts';
import { sameValue } from './same-value.ts';
import { dateOf, inDateOrder } from './tidy-blocks.ts';
import { tidyPlainText } from './tidy-plain.ts';
import { tidySeasonLines } from './tidy-season.ts';
import { asMap, commentsOf, isFlow, rootNode } from './yaml-nodes.ts';

/** A file in its canonical form. */
export interface Tidied {
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
  const ordered = isSeason && isFields(value) && isFields(read.value);
  if (!same && !(ordered && isReordered(value, read.value))) return 'a value would change';
  const texts = (text: string) => commentsOf(text.replaceAll('\r\n', '\n')).map((one) => one.text);
  const kept = sameValue(texts(file.text).sort(), texts(made.text).sort());
  return kept ? undefined : 'a comment would be lost';
}

/** Whether sections differ in nothing but that their entries now stand in date order. */
function isReordered(value: Fields, made: Fields): boolean {
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
