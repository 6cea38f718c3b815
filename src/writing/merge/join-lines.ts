import { sameValue } from '../same-value.ts';
import { indentOf } from '../text-lines.ts';
import { inOrder, type Unit } from './in-order.ts';
import { joinValue } from './join-brackets.ts';
import { type Chunk, chunksSetIn, isLineChunk, type Joining, setIn } from './joining.ts';
import {
  type Collection,
  hasBracketComment,
  inside,
  isBlock,
  isEmpty,
  type PartOrLine,
  partIn,
  type VersionPart,
} from './part.ts';
import { isAboutAnother, labelsClash, likenessAt, type Partners, partnersOf } from './partners.ts';

/** Two versions of a map or a list in lines as one, at the column of the first. */
export function joinLines(
  joining: Joining,
  path: readonly string[],
  kind: 'map' | 'list',
  base: Collection | undefined,
  x: Collection,
  y: Collection,
): readonly Chunk[] {
  const likeness = likenessAt(path, kind, joining.season) ?? 'words';
  const partners = partnersOf(likeness, base, x, y, joining.note);
  const [isMovedX, isMovedY] = [isMoved(base, x, partners), isMoved(base, y, partners)];
  // A side that put its parts into another order has the say on it.
  if (isMovedY && !isMovedX) {
    const joined = joinLines(joining, path, kind, base, y, x);
    return chunksSetIn(joined, x.column - y.column);
  }
  const compare = joining.orderAt(path);
  const reordered = isMovedX && kind === 'list' ? true : undefined;
  const chunks: Chunk[] = [];
  let afterNew = false;
  for (const unit of inOrder(base, x, y, partners, compare, reordered)) {
    const made = unitChunks(joining, path, unit, x.column, y.column);
    if (made.length === 0) continue;
    const isNew = unit.before === undefined && (unit.x === undefined || unit.y === undefined);
    // What stood below a blank line keeps one where its neighbour is new.
    const isClose = chunks.length > 0 && !isBlankLine(chunks.at(-1)) && !isBlankLine(made[0]);
    if (unit.spaced && isClose && (isNew || afterNew)) chunks.push('');
    chunks.push(...made);
    afterNew = isNew;
  }
  return chunks;
}

function isBlankLine(chunk: Chunk | undefined): boolean {
  return chunk !== undefined && isLineChunk(chunk) && chunk.trim() === '';
}

/** Whether a side has parts in another order than both began with. */
function isMoved(base: Collection | undefined, side: Collection, { before }: Partners): boolean {
  const places = new Map(base?.parts.map((part, at) => [part, at]));
  let last = -1;
  for (const part of side.parts) {
    const was = before.get(part);
    const place = was === undefined ? undefined : places.get(was);
    if (place === undefined) continue;
    if (place < last) return true;
    last = place;
  }
  return false;
}

function unitChunks(
  joining: Joining,
  path: readonly string[],
  { x, y, before }: Unit,
  column: number,
  columnOfY: number,
): readonly Chunk[] {
  const by = column - columnOfY;
  const line = lineIn(x) ?? lineIn(y);
  if (line !== undefined) return x === undefined ? setIn([line], by) : [line];
  const [one, other] = [partIn(x), partIn(y)];
  if (one !== undefined && other !== undefined) {
    return joinPart(joining, path, before, one, other);
  }
  const only = one ?? other;
  if (only === undefined) return [];
  if (before === undefined) return setIn(only.lines, column - only.column);
  const isUntouched =
    sameValue(before.value, only.value) && newComments(only, [before]).length === 0;
  return isUntouched ? [] : [clash(column, only)];
}

function lineIn(token: PartOrLine | undefined): string | undefined {
  return token?.kind === 'line' ? token.text : undefined;
}

function clash(column: number, ...parts: readonly VersionPart[]): Chunk {
  const linesOf = (side: VersionPart['version']['side']) => {
    const part = parts.find(({ version }) => version.side === side);
    return part === undefined ? [] : setIn(part.lines, column - part.column);
  };
  return { ours: linesOf('ours'), theirs: linesOf('theirs') };
}

/** Two versions of a part as one, at the column of the first. */
function joinPart(
  joining: Joining,
  path: readonly string[],
  base: VersionPart | undefined,
  x: VersionPart,
  y: VersionPart,
): readonly Chunk[] {
  const inner = [...path, x.pair?.key.text ?? '*'];
  const kind = [x, y].map(({ node }) => node.kind).find((one) => one !== 'scalar') ?? 'map';
  // Equal lists of entries still have to tell which entries are there twice.
  const holdsEntries = joining.season && inner.length === 1 && kind === 'list';
  if (!holdsEntries && sameLines(x, y)) return x.lines;
  if (base !== undefined && sameLines(base, y)) return x.lines;
  if (base !== undefined && sameLines(base, x)) return setIn(y.lines, x.column - y.column);
  const isSitting = inner.join('.') === 'tastings.*';
  if (isSitting && labelsClash(x.value, y.value, base?.value)) return [clash(x.column, x, y)];
  // An entry that became another one is not that of which the other side changed something.
  const isEntry = joining.season && inner.length === 2 && inner[1] === '*';
  const isAnother = (part: VersionPart) =>
    base !== undefined && isEntry && isAboutAnother(inner[0], base, part);
  const isChanged = (part: VersionPart) => base !== undefined && !sameValue(base.value, part.value);
  if ((isAnother(x) || isAnother(y)) && isChanged(x) && isChanged(y)) {
    if (!sameValue(x.value, y.value)) return [clash(x.column, x, y)];
  }
  // What stands in lines goes on in lines.
  const [first, second] = isBlock(y) && !isBlock(x) ? [y, x] : [x, y];
  const joined = goesInLines(joining, inner, first, second)
    ? joinInside(joining, inner, kind, base, first, second)
    : joinAtOnce(joining, inner, base, first, second);
  return chunksSetIn(joined ?? [clash(first.column, x, y)], x.column - first.column);
}

/** Whether two parts can be joined line by line, the first of them in lines if either is. */
function goesInLines(
  { season }: Joining,
  path: readonly string[],
  first: VersionPart,
  second: VersionPart,
): boolean {
  if (first.at === undefined || (first.pair === undefined && isEmpty(first))) return false;
  const { kind } = first.node;
  if (isEmpty(first)) return isEmpty(second) && second.at !== undefined && !first.node.isFlow;
  if (!isBlock(first) || kind === 'scalar') return false;
  if (likenessAt(path, kind, season) === undefined) return false;
  if (isEmpty(second)) return true;
  return second.node.kind === kind && !hasBracketComment(second);
}

/** Undefined where the part is one question as a whole. */
function joinInside(
  joining: Joining,
  path: readonly string[],
  kind: 'map' | 'list',
  base: VersionPart | undefined,
  first: VersionPart,
  second: VersionPart,
): readonly Chunk[] | undefined {
  const own = inside(first, first.column + 2);
  const old = base === undefined ? undefined : inside(base, own.column);
  const joined = joinLines(joining, path, kind, old, own, inside(second, own.column));
  // What was written to a value in brackets has no line of its own among the others.
  const known = [first, ...(base === undefined ? [] : [base])];
  const loose = isBlock(second) || isEmpty(second) ? [] : newComments(second, known);
  const chunks = [...loose.map((text) => ' '.repeat(own.column) + text), ...joined];
  if (first.pair !== undefined) return [...headLines(base, first, second), ...chunks];
  const [head, ...rest] = chunks;
  if (head === undefined || !isLineChunk(head)) return undefined;
  const dashed = `${head.slice(0, first.column).padEnd(first.column)}-${head.slice(first.column + 1)}`;
  return [dashed, ...rest];
}

/** The line of a key over its lines, with what either side wrote behind it. */
function headLines(
  base: VersionPart | undefined,
  first: VersionPart,
  second: VersionPart,
): readonly string[] {
  const headOf = (part: VersionPart | undefined) => part?.lines.slice(0, 1) ?? [];
  const [head = ''] = headOf(first);
  if (!isBlock(second)) return [head];
  const [other = ''] = headOf(second);
  const [was] = headOf(base);
  if (head.trim() === other.trim() || was?.trim() === other.trim()) return [head];
  if (was?.trim() === head.trim()) return setIn([other], first.column - second.column);
  const comments = commentsIn(second, other).filter((text) => !head.includes(text));
  return [...comments.map((text) => ' '.repeat(first.column) + text), head];
}

/** A part whose value is taken or joined as one: a number, a word, what stands in brackets. */
function joinAtOnce(
  joining: Joining,
  path: readonly string[],
  base: VersionPart | undefined,
  x: VersionPart,
  y: VersionPart,
): readonly Chunk[] | undefined {
  const isOld = (part: VersionPart) => base !== undefined && sameValue(base.value, part.value);
  if (sameValue(x.value, y.value) || isOld(y)) return withComments(x.lines, x, y, base);
  if (isOld(x)) {
    const lines = withComments(y.lines, y, x, base);
    return setIn(lines, x.column - y.column);
  }
  const value = joinValue(joining, path, base, x, y);
  if (value === undefined || x.at === undefined) return undefined;
  const { starts } = x.version;
  const offset = starts[x.at.from] ?? 0;
  const text = x.lines.join('\n');
  const made = `${text.slice(0, x.node.start - offset)}${value}${text.slice(x.node.end - offset)}`;
  return withComments(made.split('\n'), x, y, base);
}

/** Lines of one side with the comments that the other side wrote to them. */
function withComments(
  lines: readonly string[],
  kept: VersionPart,
  other: VersionPart,
  base: VersionPart | undefined,
): readonly string[] {
  const comments = newComments(other, [kept, ...(base === undefined ? [] : [base])]);
  if (comments.length === 0) return lines;
  const [line = '', ...more] = lines;
  const isOne = more.length === 0 && comments.length === 1 && commentsIn(kept, line).length === 0;
  if (isOne) return [`${line}  ${comments[0]}`];
  return [...comments.map((text) => ' '.repeat(kept.column) + text), ...lines];
}

/** Comments of a part that none of the others has. */
function newComments(part: VersionPart, others: readonly VersionPart[]): readonly string[] {
  const known = new Set(others.flatMap((one) => commentsOfPart(one)));
  return commentsOfPart(part).filter((text) => !known.has(text));
}

function commentsOfPart({ version, at }: VersionPart): readonly string[] {
  if (at === undefined) return [];
  const [start = 0, end = version.text.length] = [version.starts[at.from], version.starts[at.to]];
  return version.comments
    .filter((comment) => comment.start >= start && comment.start < end)
    .map(({ text }) => text);
}

function commentsIn(part: VersionPart, line: string): readonly string[] {
  return commentsOfPart(part).filter((text) => line.endsWith(text));
}

/** Whether two parts read alike, however far they are set in. */
function sameLines(a: VersionPart, b: VersionPart): boolean {
  if (a.at === undefined || b.at === undefined) {
    return sameValue(a.value, b.value) && newComments(a, [b]).length === 0;
  }
  if (a.lines.length !== b.lines.length) return false;
  const by = a.column - b.column;
  return a.lines.every((line, at) => {
    const other = b.lines[at] ?? '';
    if (line.trim() === '' || other.trim() === '') return line.trim() === other.trim();
    return line.trim() === other.trim() && indentOf(line) - indentOf(other) === by;
  });
}
