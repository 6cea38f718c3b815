import { pairEnd, type YamlNode, type YamlPair } from '../reading/yaml-node.ts';
import { lineStart } from '../source/position.ts';
import { columnOf, type Edit, insertLines, lineAfter, nextLine } from './edit.ts';

/** How new text is made for the style that stands around it. */
export interface Rendering {
  /** Lines of a block list item with its dash at `indent`. */
  readonly lines: (indent: number) => readonly string[];
  /** The same on one line inside brackets. */
  readonly flow: () => string;
}

/** New items that go before the item that now has this index. */
export interface ItemsAt {
  readonly index: number;
  readonly items: readonly Rendering[];
}

/** Edits that put items into the list behind a key, or undefined where a comment would move. */
export function insertItems(
  text: string,
  parentColumn: number,
  pair: YamlPair,
  groups: readonly ItemsAt[],
): readonly Edit[] | undefined {
  const list = pair.value;
  const all = groups.flatMap((group) => group.items);
  if (list.items.length === 0) {
    return fillEmpty(text, pair, (indent) => all.flatMap((one) => one.lines(indent)), parentColumn);
  }
  if (list.isFlow) return insertIntoBrackets(text, list, groups);
  return groups.map((group) => blockEdit(text, list, group));
}

/** Puts lines under a key that has nothing behind it: `picks:`, `picks: ~` or `picks: []`. */
export function fillEmpty(
  text: string,
  pair: YamlPair,
  lines: (indent: number) => readonly string[],
  parentColumn: number,
): readonly Edit[] | undefined {
  const colon = text.indexOf(':', pair.key.end);
  const valueEnd = Math.max(pair.value.end, colon + 1);
  const written = text.slice(colon + 1, valueEnd);
  const empty = written.trim();
  if (!/^(?:~|null|Null|NULL|\[\s*\]|\{\s*\}|)$/.test(empty)) return undefined;
  const edits: Edit[] = [];
  if (empty !== '') edits.push({ at: colon + 1, remove: valueEnd - colon - 1, insert: '' });
  edits.push(insertLines(text, nextLine(text, valueEnd), lines(parentColumn + 2)));
  return edits;
}

function blockEdit(text: string, list: YamlNode, { index, items }: ItemsAt): Edit {
  const dash = columnOf(text, list.start);
  const lines = (items: readonly Rendering[], spaced: boolean) =>
    items.flatMap((one, place) => [...(spaced && place > 0 ? [''] : []), ...one.lines(dash)]);
  const spaced = isSpaced(text, list);
  if (index === 0) {
    const at = aboveComments(text, lineStart(text, list.start));
    return insertLines(text, at, [...lines(items, spaced), ...(spaced ? [''] : [])]);
  }
  const at = lineAfter(text, list.items[index - 1] ?? list, dash);
  return insertLines(text, at, [...(spaced ? [''] : []), ...lines(items, spaced)]);
}

/** Whether a blank line parts all neighbours of a list. */
function isSpaced(text: string, { items }: YamlNode): boolean {
  if (items.length < 2) return false;
  return items.slice(1).every((item, index) => {
    const before = items[index] ?? item;
    const end = before.isBlockText ? before.end - 1 : before.end;
    return /\n[ \t]*\r?\n/.test(text.slice(end, item.start));
  });
}

/** The line at which the block of comments right above a line begins, or the line itself. */
export function aboveComments(text: string, line: number): number {
  let at = line;
  while (at > 0) {
    const before = lineStart(text, at - 1);
    if (!/^ *#/.test(text.slice(before, at))) break;
    at = before;
  }
  return at;
}

function insertIntoBrackets(
  text: string,
  list: YamlNode,
  groups: readonly ItemsAt[],
): readonly Edit[] | undefined {
  if (hasInnerComment(text, list)) return undefined;
  return groups.map(({ index, items }) => {
    const texts = items.map((one) => one.flow());
    const { start, end } = list.items[Math.max(0, index - 1)] ?? list;
    const alone = text.slice(lineStart(text, start), start);
    const parting = alone.trim() === '' ? `,${eolOf(text)}${alone}` : ', ';
    return index === 0
      ? { at: start, remove: 0, insert: texts.map((one) => one + parting).join('') }
      : { at: end, remove: 0, insert: texts.map((one) => parting + one).join('') };
  });
}

/** Brackets over several lines with something in them that may be a comment. */
function hasInnerComment(text: string, node: YamlNode): boolean {
  const inside = text.slice(node.start, node.end);
  return inside.includes('\n') && /(?:^|\s)#/.test(inside);
}

function eolOf(text: string): string {
  return /\r\n/.test(text) ? '\r\n' : '\n';
}

/** Edits that add keys at the end of a map, or undefined where a comment would move. */
export function insertPairs(
  text: string,
  map: YamlNode,
  pairs: readonly {
    readonly key: string;
    readonly flow: string;
    lines(indent: number): readonly string[];
  }[],
): readonly Edit[] | undefined {
  if (pairs.length === 0) return [];
  const last = pairEnd(map.pairs.at(-1));
  if (map.isFlow) {
    if (hasInnerComment(text, map)) return undefined;
    const insert = pairs.map(({ flow }) => flow).join(', ');
    if (last === undefined) return [{ at: map.end - 1, remove: 0, insert: ` ${insert} ` }];
    return [{ at: last, remove: 0, insert: `, ${insert}` }];
  }
  const column = columnOf(text, map.start);
  const at = lineAfter(text, map, column);
  return [
    insertLines(
      text,
      at,
      pairs.flatMap((pair) => pair.lines(column)),
    ),
  ];
}
