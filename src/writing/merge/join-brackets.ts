import { sameValue } from '../same-value.ts';
import { inOrder, type Unit } from './in-order.ts';
import type { Joining } from './joining.ts';
import {
  type Collection,
  hasBracketComment,
  partIn,
  partsOf,
  partText,
  type VersionPart,
} from './part.ts';
import { likenessAt, partnersOf } from './partners.ts';

/**
 * The text of a value as both sides together have it: a number, a word, or a map or list in brackets.
 * Undefined where the two contradict each other.
 */
export function joinValue(
  joining: Joining,
  path: readonly string[],
  base: VersionPart | undefined,
  x: VersionPart,
  y: VersionPart,
): string | undefined {
  if (sameValue(x.value, y.value)) return textOf(x);
  if (base !== undefined && sameValue(base.value, y.value)) return textOf(x);
  if (base !== undefined && sameValue(base.value, x.value)) return textOf(y);
  if (!x.node.isFlow || !y.node.isFlow || x.node.kind !== y.node.kind) return undefined;
  if (hasBracketComment(x) || hasBracketComment(y)) return undefined;
  return joinParts(joining, path, base, x, y);
}

function textOf({ version, node }: VersionPart): string {
  return version.text.slice(node.start, node.end);
}

function joinParts(
  joining: Joining,
  path: readonly string[],
  base: VersionPart | undefined,
  x: VersionPart,
  y: VersionPart,
): string | undefined {
  const kind = x.node.kind === 'map' ? 'map' : 'list';
  const likeness = likenessAt(path, kind, joining.season);
  if (likeness === undefined) return undefined;
  const [mine, theirs] = [bare(x), bare(y)];
  const old = base === undefined ? undefined : bare(base);
  const partners = partnersOf(likeness, old, mine, theirs, joining.note);
  const units = inOrder(old, mine, theirs, partners, joining.orderAt(path));
  const made: Made[] = [];
  for (const unit of units) {
    const text = unitText(joining, path, unit);
    if (text === undefined) return undefined;
    const at = unit.x?.kind === 'part' ? mine.parts.indexOf(unit.x.part) : undefined;
    if (text !== '') made.push({ text, at });
  }
  return withBrackets(x, mine.parts, made);
}

function bare({ version, node, value }: VersionPart): Collection {
  const parts = partsOf(version, node, value);
  return { column: 0, parts, tokens: parts.map((part) => ({ kind: 'part', part })) };
}

/** Empty where one side took the part away. */
function unitText(joining: Joining, path: readonly string[], unit: Unit): string | undefined {
  const [one, other] = [partIn(unit.x), partIn(unit.y)];
  const { before } = unit;
  if (one === undefined || other === undefined) {
    const only = one ?? other;
    if (only === undefined) return '';
    if (before === undefined) return partText(only);
    return sameValue(before.value, only.value) ? '' : undefined;
  }
  const { pair } = one;
  const value = joinValue(joining, [...path, pair?.key.text ?? '*'], before, one, other);
  if (value === undefined || pair === undefined) return value;
  const from = one.node.isBlank && value !== '' ? other : one;
  const lead = from.version.text.slice(from.pair?.key.start, from.node.start);
  return `${lead}${value}`.trimEnd();
}

/** The text of a part, and which part of the first side it was, if it was one. */
interface Made {
  readonly text: string;
  readonly at: number | undefined;
}

/** The brackets of a part with other parts in them, as far apart as its own. */
function withBrackets(
  { version, node }: VersionPart,
  parts: readonly VersionPart[],
  made: readonly Made[],
) {
  const { text } = version;
  const [first, second] = parts;
  const last = parts.at(-1);
  const [open, close] = node.kind === 'map' ? ['{', '}'] : ['[', ']'];
  if (made.length === 0) return `${open}${close}`;
  if (first === undefined || last === undefined) {
    const gap = node.kind === 'map' ? ' ' : '';
    return `${open}${gap}${made.map((one) => one.text).join(', ')}${gap}${close}`;
  }
  const endOf = (part: VersionPart) => Math.max(part.pair?.key.end ?? 0, part.node.end);
  const startOf = (part: VersionPart) => part.pair?.key.start ?? part.node.start;
  // Blanks at the end of one line are no habit of the others.
  const usual =
    second === undefined
      ? ', '
      : text.slice(endOf(first), startOf(second)).replaceAll(/[ \t]+(?=\r?\n)/g, '');
  const joined = made.map((one, index) => {
    const [here, before] = [one.at, made[index - 1]?.at];
    const [left, right] = [parts[before ?? -1], parts[here ?? -1]];
    const neighbours = here !== undefined && before === here - 1;
    const own = neighbours && left && right ? text.slice(endOf(left), startOf(right)) : usual;
    return index === 0 ? one.text : `${own}${one.text}`;
  });
  const lead = text.slice(node.start, startOf(first));
  return `${lead}${joined.join('')}${text.slice(endOf(last), node.end)}`;
}
