import { EVENT_ID, getScalarValue, SCALAR_STYLE, type ScalarEvent } from 'js-yaml';
import type { Diagnostic, LocatedDiagnostic } from '../diagnostics/diagnostic.ts';
import {
  isSpan,
  type Place,
  type SourceFile,
  type Span,
  type Spot,
} from '../source/source-file.ts';
import { yamlEvents } from './yaml-read.ts';

/** A value in a file with its offsets; collections end where their last part ends. */
interface Node {
  readonly start: number;
  end: number;
  readonly pairs: Map<string, Pair>;
  readonly items: Node[];
  readonly isMap: boolean;
  /** An empty value (`fruit:`) has no text of its own. */
  readonly blank: boolean;
}

interface Pair {
  readonly key: Node;
  readonly value: Node;
}

const rootOf = new WeakMap<SourceFile, Node>();

/** The offsets of a place. What cannot be found points at the nearest thing around it. */
export function locate(place: Place): Span {
  if (isSpan(place)) return within(place);
  let node = root(place.file);
  let pair: Pair | undefined;
  for (const [index, step] of place.path.entries()) {
    const last = index === place.path.length - 1;
    if (typeof step === 'number' && !node.isMap) {
      const item = node.items[step];
      if (item === undefined) return span(place, pair?.key ?? node);
      node = item;
      pair = undefined;
      continue;
    }
    const next = node.pairs.get(String(step));
    // A key that is missing: point at what it is missing from.
    if (next === undefined) return span(place, pair?.key ?? firstKey(node));
    pair = next;
    if (last && place.part === 'key') return span(place, next.key);
    node = next.value;
  }
  if (node.blank && pair !== undefined) return span(place, pair.key);
  return span(place, node);
}

/** The diagnostics with every place found in its file. */
export function located(diagnostics: readonly Diagnostic[]): readonly LocatedDiagnostic[] {
  return diagnostics.map((one) => ({
    ...one,
    at: locate(one.at),
    related: one.related.map(({ at, label }) => ({ at: locate(at), label })),
  }));
}

function span(spot: Spot, node: Node): Span {
  return within({ file: spot.file, start: node.start, end: node.end });
}

/** What is missing at the end of a file is missed at its last character, not past it. */
function within({ file, start, end }: Span): Span {
  const length = file.text.length;
  const first = Math.max(0, Math.min(start, length));
  return { file, start: first, end: Math.max(first, Math.min(end, length)) };
}

function firstKey(node: Node): Node {
  const [first] = node.pairs.values();
  return first?.key ?? node;
}

function root(file: SourceFile): Node {
  const known = rootOf.get(file);
  if (known !== undefined) return known;
  const built = build(file);
  rootOf.set(file, built);
  return built;
}

function build(file: SourceFile): Node {
  const top = emptyNode(0, false);
  const open: { node: Node; key: { node: Node; text: string } | undefined }[] = [];
  const add = (node: Node, text: string, keyable: boolean) => {
    const parent = open.at(-1);
    if (parent === undefined) return;
    if (!parent.node.isMap) {
      parent.node.items.push(node);
    } else if (parent.key === undefined) {
      parent.key = { node, text: keyable ? text : '' };
    } else {
      parent.node.pairs.set(parent.key.text, { key: parent.key.node, value: node });
      parent.key = undefined;
    }
  };
  for (const event of yamlEvents(file)) {
    switch (event.type) {
      case EVENT_ID.DOCUMENT:
        open.push({ node: top, key: undefined });
        break;
      case EVENT_ID.SEQUENCE:
      case EVENT_ID.MAPPING: {
        const node = emptyNode(event.start, event.type === EVENT_ID.MAPPING);
        add(node, '', false);
        open.push({ node, key: undefined });
        break;
      }
      case EVENT_ID.SCALAR:
        if (event.valueStart < 0) add(blankNode(file.text, open.at(-1)?.node), '', true);
        else add(scalarNode(event), getScalarValue(file.text, event), true);
        break;
      case EVENT_ID.ALIAS:
        add(emptyNode(event.anchorStart, false), '', false);
        break;
      case EVENT_ID.POP: {
        const closed = open.pop();
        if (closed !== undefined) closed.node.end = lastEnd(closed.node);
        break;
      }
    }
  }
  return top.items[0] ?? top;
}

function emptyNode(start: number, isMap: boolean): Node {
  return { start, end: start + 1, pairs: new Map(), items: [], isMap, blank: false };
}

/** A blank value has no place of its own: in a list it is found at its dash. */
function blankNode(text: string, parent: Node | undefined): Node {
  const after = parent?.items.at(-1)?.end ?? text.lastIndexOf('\n', parent?.start ?? 0) + 1;
  const dashes = /^[ \t]*(?:- +)*-[ \t]*\r?(?:#.*)?$/gm;
  dashes.lastIndex = after;
  const found = parent === undefined || parent.isMap ? null : dashes.exec(text);
  const dash = found === null ? after : found.index + found[0].replace(/#.*/, '').lastIndexOf('-');
  return { ...emptyNode(dash, false), blank: true };
}

function scalarNode(event: ScalarEvent): Node {
  const quoted =
    event.style === SCALAR_STYLE.SINGLE_QUOTED || event.style === SCALAR_STYLE.DOUBLE_QUOTED
      ? 1
      : 0;
  return {
    start: event.valueStart - quoted,
    end: event.valueEnd + quoted,
    pairs: new Map(),
    items: [],
    isMap: false,
    blank: false,
  };
}

function lastEnd(node: Node): number {
  let end = node.start + 1;
  for (const item of node.items) end = Math.max(end, item.end);
  for (const { key, value } of node.pairs.values()) end = Math.max(end, key.end, value.end);
  return end;
}
