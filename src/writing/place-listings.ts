import { type Diagnostic, diagnose } from '../diagnostics/diagnostic.ts';
import {
  entryMapFlow,
  entryRootFlow,
  entryUnreadable,
  entryUnsafe,
  listedAlready,
} from '../diagnostics/words/entry-placing.ts';
import { cultivar } from '../entries/cultivar.ts';
import { tree } from '../entries/tree.ts';
import { trial } from '../entries/trial.ts';
import { editorLine } from '../reading/schema-files.ts';
import type { YamlNode, YamlPair } from '../reading/yaml-node.ts';
import { readYaml } from '../reading/yaml-read.ts';
import { yamlRoot } from '../reading/yaml-tree.ts';
import { lineStart } from '../source/position.ts';
import type { SourceFile, Spot } from '../source/source-file.ts';
import { applyEdits, columnOf, type Edit, insertLines, lineAfter, lineEndAt } from './edit.ts';
import { aboveComments, fillEmpty, insertPairs } from './insert-items.ts';
import { type Listing, pathOfListing, REMOVED } from './listing.ts';
import { type FileMap, isFileMap } from './new-entry.ts';
import { type Refusal, refusal } from './outcome.ts';
import { renderFlow, renderKey, renderPair } from './render-entry.ts';
import { sameValue } from './same-value.ts';

/** A list with more in it, and where each of the new ones stands. */
export interface PlacedListings {
  readonly kind: 'placed';
  readonly file: SourceFile;
  readonly added: readonly { readonly entry: Listing; readonly at: Spot }[];
}

/**
 * Puts cultivars, trees, tasters, sites or settings at the end of the list that they belong to, and
 * the day of a removal behind what is said of its tree, every other byte as it was. What is listed already under the same key is refused, unless it says the same.
 *
 * The result has been read again: it says what the old file said and what was added, nothing else.
 *
 * @param file `cultivars.yaml`, `trees.yaml` or `ledger.yaml`; one that is not there has no text
 */
export function placeListings(
  file: SourceFile,
  listings: readonly Listing[],
  read = readYaml,
): PlacedListings | Refusal {
  let placed = file;
  for (const one of listings) {
    const step = placeOne(placed, one, read);
    if (step.kind === 'refused') return step;
    placed = step.file;
  }
  const at = (one: Listing): Spot => ({ file: placed, path: pathOfListing(one), part: 'value' });
  return {
    kind: 'placed',
    file: placed,
    added: listings.map((entry) => ({ entry, at: at(entry) })),
  };
}

function placeOne(
  file: SourceFile,
  one: Listing,
  read: typeof readYaml,
): { readonly kind: 'placed'; readonly file: SourceFile } | Refusal {
  const old = read(file);
  if (old.diagnostics.length > 0) return refusal(...old.diagnostics);
  const value = old.value ?? {};
  if (!isFileMap(value)) return refuse(diagnose(entryUnreadable, wholeFile(file), {}));
  const [top, inner] = pathOfListing(one);
  const name = inner ?? top;
  const within = inner === undefined ? value : (value[top] ?? {});
  if (!isFileMap(within)) return refuse(diagnose(entryUnreadable, wholeFile(file), {}));
  const known = Object.hasOwn(within, name) ? within[name] : undefined;
  if (known !== undefined) {
    if (sameValue(known, one.entry)) return { kind: 'placed', file };
    const spot: Spot = { file, path: pathOfListing(one), part: 'value' };
    return refuse(diagnose(listedAlready, spot, { key: one.key, list: one.section }));
  }
  const root = yamlRoot(file);
  const edits =
    root === undefined || root.pairs.length === 0
      ? beginList(file, root, one)
      : root.isFlow
        ? undefined
        : editsFor(file.text, root, one);
  if (edits === undefined) {
    const isWhole = root?.isFlow !== false || inner === undefined;
    const spot: Spot = { file, path: [top], part: 'key' };
    return refuse(
      isWhole
        ? diagnose(entryRootFlow, wholeFile(file), {})
        : diagnose(entryMapFlow, spot, { key: top }),
    );
  }
  const made: SourceFile = { ...file, text: applyEdits(file.text, edits) };
  const expected =
    inner === undefined
      ? { ...value, [name]: one.entry }
      : { ...value, [top]: { ...within, [name]: one.entry } };
  const result = read(made);
  const [problem] = result.diagnostics;
  if (problem === undefined && sameValue(result.value, expected)) {
    return { kind: 'placed', file: made };
  }
  const what = problem === undefined ? 'it would say something else' : problem.message;
  return refuse(diagnose(entryUnsafe, wholeFile(file), { what }));
}

/** What is listed first: below the comments of the file, which say what it is. */
function beginList(
  file: SourceFile,
  root: YamlNode | undefined,
  one: Listing,
): readonly Edit[] | undefined {
  const { text } = file;
  const edits: Edit[] = [];
  // Braces with nothing in them say that nothing is listed; they give way.
  if (root !== undefined && root.kind === 'map') {
    const end = root.end;
    const from = lineStart(text, root.start);
    const isAlone =
      text.slice(from, root.start).trim() === '' && /^[ \t]*(?:\r?\n|$)/.test(text.slice(end));
    if (!isAlone) return undefined;
    const past = text.indexOf('\n', end);
    edits.push({ at: from, remove: (past < 0 ? text.length : past + 1) - from, insert: '' });
  }
  const isBlank = text.trim() === '';
  const eol = lineEndAt(text, text.length);
  const head = isBlank ? [editorLine(one.section === 'trees' ? 'trees' : 'cultivars'), ''] : [''];
  const gap = text === '' || text.endsWith('\n') ? '' : eol;
  const lines = [
    ...(/\n[ \t]*\r?\n$/.test(applyEdits(text, edits)) ? [] : head),
    ...listingLines(one, 0),
  ];
  edits.push({ at: text.length, remove: 0, insert: `${gap}${lines.join(eol)}${eol}` });
  return edits;
}

function editsFor(text: string, root: YamlNode, one: Listing): readonly Edit[] | undefined {
  switch (one.section) {
    case 'cultivars':
    case 'trees':
      return appendPair(text, root, one);
    case 'tasters':
    case 'sites': {
      const pair = root.pair(one.section);
      const rendered = { key: one.key, ...renderings(one) };
      if (pair === undefined) {
        const lines = [`${one.section}:`, ...rendered.lines(2)];
        return [newPair(text, root, one.section, lines)];
      }
      if (pair.value.pairs.length === 0) {
        return fillEmpty(text, pair, rendered.lines, columnOf(text, root.start));
      }
      return insertPairs(text, pair.value, [rendered]);
    }
    case 'settings':
      return [newPair(text, root, one.key, [`${one.key}: ${renderFlow(one.entry)}`])];
    case 'removals': {
      const its = root.pair(one.key)?.value;
      if (its?.kind !== 'map') return undefined;
      const flow = `${REMOVED}: ${renderFlow(one.entry)}`;
      const lines = (indent: number) => renderPair(REMOVED, one.entry, indent);
      return insertPairs(text, its, [{ key: REMOVED, flow, lines }]);
    }
  }
}

/** At the end of the list, with a blank line before it where the others have one. */
function appendPair(text: string, root: YamlNode, one: Listing): readonly Edit[] {
  const column = columnOf(text, root.start);
  const at = lineAfter(text, root, column);
  const lines = listingLines(one, column);
  return [insertLines(text, at, isSpaced(text, root.pairs) ? ['', ...lines] : lines)];
}

/** A key of `ledger.yaml` that it does not have yet, behind the last one that comes before it. */
function newPair(text: string, root: YamlNode, key: string, lines: readonly string[]): Edit {
  const order = Object.keys(trial.fields);
  const own = order.indexOf(key);
  const before = root.pairs.filter((pair) => {
    const rank = order.indexOf(pair.key.text);
    return rank >= 0 && rank < own;
  });
  const last = before.reduce<YamlPair | undefined>(
    (found, pair) =>
      found === undefined || order.indexOf(pair.key.text) > order.indexOf(found.key.text)
        ? pair
        : found,
    undefined,
  );
  if (last === undefined) {
    return insertLines(text, aboveComments(text, lineStart(text, root.start)), lines);
  }
  const column = columnOf(text, root.start);
  const isNothing = last.value.isBlank;
  return insertLines(text, lineAfter(text, isNothing ? last.key : last.value, column), lines);
}

function isSpaced(text: string, pairs: readonly YamlPair[]): boolean {
  if (pairs.length < 2) return false;
  return pairs.slice(1).every((pair, index) => {
    const before = pairs[index];
    const end = before === undefined ? 0 : Math.max(before.key.end, before.value.end);
    return /\n[ \t]*\r?\n/.test(text.slice(Math.max(0, end - 1), pair.key.start));
  });
}

function renderings(one: Listing) {
  const entry = orderedEntry(one);
  return {
    flow: `${renderKey(one.key)}: ${renderFlow(entry)}`,
    lines: (indent: number) => renderPair(one.key, entry, indent),
  };
}

/** The lines of what is listed, its key at column `indent`: one where it fits. */
export function listingLines(one: Listing, indent: number): readonly string[] {
  return renderings(one).lines(indent);
}

/** Keys in the order in which people write them. */
function orderedEntry({ section, entry }: Listing): FileMap | string {
  if (section === 'removals') return { [REMOVED]: entry };
  if (typeof entry === 'string') return entry;
  const fields = { cultivars: cultivar.fields, trees: tree.fields, sites: trial.site };
  const order = Object.keys(fields[section as keyof typeof fields]);
  const keys = Object.keys(entry).filter((key) => entry[key] !== undefined);
  keys.sort((a, b) => order.indexOf(a) - order.indexOf(b));
  return Object.fromEntries(keys.map((key) => [key, entry[key]]));
}

function refuse(problem: Diagnostic): Refusal {
  return refusal(problem);
}

function wholeFile(file: SourceFile) {
  return { file, start: 0, end: 0 };
}
