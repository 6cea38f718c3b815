import { type Edit, insertLines, lineStart, nextLine } from './edit.ts';
import {
  asSeq,
  columnOf,
  endOf,
  isBlockScalar,
  isFlow,
  lineAfter,
  type PairNode,
  startOf,
  type YAMLMap,
  type YAMLSeq,
} from './yaml-nodes.ts';

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
  pair: PairNode,
  groups: readonly ItemsAt[],
): readonly Edit[] | undefined {
  const seq = asSeq(pair.value);
  const all = groups.flatMap((group) => group.items);
  if (seq === undefined || seq.items.length === 0) {
    return fillEmpty(text, pair, (indent) => all.flatMap((one) => one.lines(indent)), parentColumn);
  }
  if (isFlow(seq)) return insertIntoBrackets(text, seq, groups);
  return groups.map((group) => blockEdit(text, seq, group));
}

/** Puts lines under a key that has nothing behind it: `picks:`, `picks: ~` or `picks: []`. */
export function fillEmpty(
  text: string,
  pair: PairNode,
  lines: (indent: number) => readonly string[],
  parentColumn: number,
): readonly Edit[] | undefined {
  const keyEnd = endOf(pair.keyNode);
  const colon = text.indexOf(':', keyEnd);
  const valueEnd = Math.max(endOf(pair.value), colon + 1);
  const written = text.slice(colon + 1, valueEnd);
  const empty = written.trim();
  if (!/^(?:~|null|Null|NULL|\[\s*\]|\{\s*\}|)$/.test(empty)) return undefined;
  const edits: Edit[] = [];
  if (empty !== '') edits.push({ at: colon + 1, remove: valueEnd - colon - 1, insert: '' });
  edits.push(insertLines(text, nextLine(text, valueEnd), lines(parentColumn + 2)));
  return edits;
}

function blockEdit(text: string, seq: YAMLSeq, { index, items }: ItemsAt): Edit {
  const dash = columnOf(text, startOf(seq));
  const lines = (items: readonly Rendering[], spaced: boolean) =>
    items.flatMap((one, place) => [...(spaced && place > 0 ? [''] : []), ...one.lines(dash)]);
  const spaced = isSpaced(text, seq);
  if (index === 0) {
    const at = aboveComments(text, lineStart(text, startOf(seq)));
    return insertLines(text, at, [...lines(items, spaced), ...(spaced ? [''] : [])]);
  }
  const at = lineAfter(text, seq.items[index - 1], dash);
  return insertLines(text, at, [...(spaced ? [''] : []), ...lines(items, spaced)]);
}

/** Whether a blank line parts all neighbours of a list. */
function isSpaced(text: string, seq: YAMLSeq): boolean {
  if (seq.items.length < 2) return false;
  return seq.items.slice(1).every((item, index) => {
    const before = seq.items[index];
    const end = endOf(before);
    return /\n[ \t]*\r?\n/.test(text.slice(isBlockScalar(before) ? end - 1 : end, startOf(item)));
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
  seq: YAMLSeq,
  groups: readonly ItemsAt[],
): readonly Edit[] | undefined {
  if (hasInnerComment(text, seq)) return undefined;
  return groups.map(({ index, items }) => {
    const texts = items.map((one) => one.flow());
    const neighbour = seq.items[Math.max(0, index - 1)];
    const start = startOf(neighbour);
    const alone = text.slice(lineStart(text, start), start);
    const parting = alone.trim() === '' ? `,${eolOf(text)}${alone}` : ', ';
    return index === 0
      ? { at: start, remove: 0, insert: texts.map((one) => one + parting).join('') }
      : { at: endOf(neighbour), remove: 0, insert: texts.map((one) => parting + one).join('') };
  });
}

/** Brackets over several lines with something in them that may be a comment. */
function hasInnerComment(text: string, node: YAMLSeq | YAMLMap): boolean {
  const inside = text.slice(startOf(node), endOf(node));
  return inside.includes('\n') && /(?:^|\s)#/.test(inside);
}

function eolOf(text: string): string {
  return /\r\n/.test(text) ? '\r\n' : '\n';
}

/** Edits that add keys at the end of a map, or undefined where a comment would move. */
export function insertPairs(
  text: string,
  map: YAMLMap,
  pairs: readonly {
    readonly key: string;
    readonly flow: string;
    lines(indent: number): readonly string[];
  }[],
): readonly Edit[] | undefined {
  if (pairs.length === 0) return [];
  const last = map.items.at(-1);
  if (isFlow(map)) {
    if (hasInnerComment(text, map)) return undefined;
    const insert = pairs.map(({ flow }) => flow).join(', ');
    if (last === undefined) return [{ at: endOf(map) - 1, remove: 0, insert: ` ${insert} ` }];
    return [{ at: endOf(last), remove: 0, insert: `, ${insert}` }];
  }
  const column = columnOf(text, startOf(map.items[0]));
  const at = lineAfter(text, map, column);
  return [
    insertLines(
      text,
      at,
      pairs.flatMap((pair) => pair.lines(column)),
    ),
  ];
}
