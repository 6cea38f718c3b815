import type { YamlNode, YamlPair } from '../../reading/yaml-node.ts';
import { columnOf, lineAfter } from '../edit.ts';
import { isFileMap } from '../new-entry.ts';
import { indentOf, lineOf } from '../text-lines.ts';
import type { Version } from './version.ts';

/** A key of a map with its value, or an item of a list. */
export interface VersionPart {
  readonly version: Version;
  /** The key, if it is one of a map. */
  readonly pair: YamlPair | undefined;
  readonly node: YamlNode;
  readonly value: unknown;
  /** Column of its key or dash. */
  readonly column: number;
  /** Its lines with all comments that go with it; made for it where it stands in brackets. */
  readonly lines: readonly string[];
  /** Its lines in the version, `[from, to)`; undefined where it stands in brackets. */
  readonly at: { readonly from: number; readonly to: number } | undefined;
}

/** A part, or a line between parts: a comment or a blank one. */
export type PartOrLine =
  | { readonly kind: 'line'; readonly text: string }
  | { readonly kind: 'part'; readonly part: VersionPart };

export function partIn(token: PartOrLine | undefined): VersionPart | undefined {
  return token?.kind === 'part' ? token.part : undefined;
}

/** A map or a list with what stands between its parts. */
export interface Collection {
  readonly column: number;
  readonly tokens: readonly PartOrLine[];
  readonly parts: readonly VersionPart[];
}

/** A whole file. */
export function rootCollection(version: Version): Collection {
  const { root, text, lines, value } = version;
  const column = root === undefined || root.isFlow ? 0 : columnOf(text, root.start);
  return collectionOf(version, root, value, column, lines.slice(0, -1), 0);
}

/** Whether a part holds parts on lines of their own. */
export function isBlock({ node }: VersionPart): boolean {
  return !node.isFlow && (node.items.length > 0 || node.pairs.length > 0);
}

/** Whether nothing stands in a part yet, so that lines may go into it. */
export function isEmpty({ node, value }: VersionPart): boolean {
  if (node.isFlow) return node.items.length === 0 && node.pairs.length === 0;
  return value === null && node.kind === 'scalar';
}

/** Whether there are comments inside the brackets of a part, which would not stay where they are. */
export function hasBracketComment({ node, version }: VersionPart): boolean {
  return (
    node.isFlow && version.comments.some(({ start }) => start > node.start && start < node.end)
  );
}

/** What is in a part. Parts in brackets get lines of their own at `column`. */
export function inside(part: VersionPart, column: number): Collection {
  const { version, node, value, at, pair } = part;
  if (at === undefined || (node.isFlow && !isEmpty(part))) return bracketed(part, column);
  const own = isBlock(part) ? columnOf(version.text, node.start) : column;
  if (pair !== undefined) {
    return collectionOf(version, node, value, own, part.lines.slice(1), at.from + 1);
  }
  const [first = '', ...rest] = part.lines;
  const undashed = first.replace(/^( *)-/, '$1 ');
  return collectionOf(version, node, value, own, [undashed, ...rest], at.from);
}

function bracketed(part: VersionPart, column: number): Collection {
  const parts = partsOf(part.version, part.node, part.value).map((one): VersionPart => {
    const text = partText(one);
    const line = `${' '.repeat(column)}${one.pair === undefined ? '- ' : ''}${text}`;
    return { ...one, column, lines: line.split('\n'), at: undefined };
  });
  return { column, parts, tokens: parts.map((one) => ({ kind: 'part', part: one })) };
}

/** The text of a part without what stands around it. */
export function partText({ version, pair, node }: VersionPart): string {
  const start = pair?.key.start ?? node.start;
  return version.text.slice(start, Math.max(pair?.key.end ?? 0, node.end));
}

interface Bare extends Omit<VersionPart, 'column' | 'lines' | 'at'> {}

function bareParts(version: Version, node: YamlNode, value: unknown): readonly Bare[] {
  const list: readonly unknown[] = Array.isArray(value) ? value : [];
  const fields = isFileMap(value) ? value : {};
  return [
    ...node.items.map(
      (item, index): Bare => ({
        version,
        pair: undefined,
        node: item,
        value: list[index],
      }),
    ),
    ...node.pairs.map(
      (pair): Bare => ({
        version,
        pair,
        node: pair.value,
        value: fields[pair.key.text],
      }),
    ),
  ];
}

/** The parts of a map or list in brackets. */
export function partsOf(version: Version, node: YamlNode, value: unknown): readonly VersionPart[] {
  return bareParts(version, node, value).map((bare) => ({
    ...bare,
    column: 0,
    lines: [],
    at: undefined,
  }));
}

/** @param lines the lines of the version from number `first` on, up to where the collection ends */
function collectionOf(
  version: Version,
  node: YamlNode | undefined,
  value: unknown,
  column: number,
  lines: readonly string[],
  first: number,
): Collection {
  const parts =
    node === undefined || node.isFlow
      ? []
      : bareParts(version, node, value).map((bare): VersionPart => {
          const { from, to } = linesOfPart(version, bare, column);
          return {
            ...bare,
            column,
            lines: lines.slice(from - first, to - first),
            at: { from, to },
          };
        });
  const tokens: PartOrLine[] = [];
  let line = first;
  for (const part of parts) {
    const { from, to } = part.at ?? { from: line, to: line };
    for (; line < from; line++) tokens.push({ kind: 'line', text: lines[line - first] ?? '' });
    tokens.push({ kind: 'part', part });
    line = to;
  }
  for (; line < first + lines.length; line++) {
    tokens.push({ kind: 'line', text: lines[line - first] ?? '' });
  }
  return { column, tokens, parts };
}

function linesOfPart(version: Version, { pair, node }: Bare, column: number) {
  const start = lineOf(version, pair?.key.start ?? node.start);
  const from = pair === undefined ? dashLine(version, start, column) : start;
  const to = lineOf(version, lineAfter(version.text, node, column));
  return { from, to };
}

/** The line of an item's dash: at or above the line on which its value begins. */
function dashLine({ lines }: Version, from: number, column: number): number {
  for (let line = from; line >= 0; line--) {
    const shown = lines[line] ?? '';
    if (indentOf(shown) === column && /^-(?:\s|$)/.test(shown.slice(column))) return line;
  }
  return from;
}
