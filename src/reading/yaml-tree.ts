import {
  CHOMPING_MODE,
  COLLECTION_STYLE,
  EVENT_ID,
  type Event,
  getScalarValue,
  type MappingEvent,
  SCALAR_STYLE,
  type ScalarEvent,
  type SequenceEvent,
} from 'js-yaml';
import { lineStart } from '../source/position.ts';
import type { SourceFile } from '../source/source-file.ts';
import { pairEnd, type YamlNode, type YamlPair } from './yaml-node.ts';
import { yamlEvents } from './yaml-read.ts';

/** The value of a file that has been read, with its places; undefined where it holds none. */
export function yamlRoot(file: SourceFile): YamlNode | undefined {
  const known = rootOf.get(file);
  if (known !== undefined) return known;
  const events = yamlEvents(file);
  if (events[1] === undefined || events[1].type === EVENT_ID.POP) return undefined;
  const root = new EventNode({ text: file.text, events, ends: endsOf(events) }, 1, 0, undefined);
  rootOf.set(file, root);
  return root;
}

const rootOf = new WeakMap<SourceFile, YamlNode>();

interface Tree {
  readonly text: string;
  readonly events: readonly Event[];
  /** For each event that opens something the index of the event that closes it; for others their own. */
  readonly ends: Uint32Array;
}

function endsOf(events: readonly Event[]): Uint32Array {
  const ends = new Uint32Array(events.length);
  const open: number[] = [];
  for (let at = 0; at < events.length; at++) {
    const type = events[at]?.type;
    ends[at] = at;
    if (type === EVENT_ID.POP) ends[open.pop() ?? 0] = at;
    else if (type !== EVENT_ID.SCALAR && type !== EVENT_ID.ALIAS) open.push(at);
  }
  return ends;
}

/** A value that begins with one of the events of a text. */
class EventNode implements YamlNode {
  readonly kind: YamlNode['kind'];
  readonly isFlow: boolean;
  readonly isBlank: boolean;
  readonly start: number;
  readonly #tree: Tree;
  readonly #at: number;
  readonly #isItem: boolean;
  #end: number | undefined;
  #items: readonly YamlNode[] | undefined;
  #pairs: readonly YamlPair[] | undefined;
  #byKey: ReadonlyMap<string, YamlPair> | undefined;

  /** @param after where what stands before it ends; a blank value is looked for from there */
  constructor(tree: Tree, at: number, after: number, parent: YamlNode | undefined) {
    this.#tree = tree;
    this.#at = at;
    this.#isItem = parent?.kind === 'list';
    const event = tree.events[at];
    this.isFlow = isCollection(event) && event.style === COLLECTION_STYLE.FLOW;
    this.isBlank = event?.type === EVENT_ID.SCALAR && event.valueStart < 0;
    this.kind =
      event?.type === EVENT_ID.MAPPING
        ? 'map'
        : event?.type === EVENT_ID.SEQUENCE
          ? 'list'
          : 'scalar';
    if (isCollection(event)) this.start = event.start;
    else if (event?.type === EVENT_ID.ALIAS) this.start = event.anchorStart;
    else if (this.isBlank) this.start = this.#isItem ? dashAfter(tree.text, after) : after;
    else if (this.#scalar === undefined) this.start = after;
    else this.start = this.#scalar.valueStart - this.#quote;
  }

  get isBlockText(): boolean {
    const style = this.#scalar?.style;
    return style === SCALAR_STYLE.LITERAL_BLOCK || style === SCALAR_STYLE.FOLDED_BLOCK;
  }

  get end(): number {
    this.#end ??= this.#findEnd();
    return this.#end;
  }

  get valueEnd(): number {
    const scalar = this.#scalar;
    if (scalar === undefined) return this.start + 1;
    if (this.isBlank) return this.end;
    return scalar.valueEnd + this.#quote;
  }

  get text(): string {
    const scalar = this.#scalar;
    if (scalar === undefined || this.isBlank) return '';
    return getScalarValue(this.#tree.text, scalar);
  }

  get items(): readonly YamlNode[] {
    this.#items ??= this.kind === 'list' ? this.#findItems() : [];
    return this.#items;
  }

  get pairs(): readonly YamlPair[] {
    this.#pairs ??= this.kind === 'map' ? this.#findPairs() : [];
    return this.#pairs;
  }

  pair(key: string): YamlPair | undefined {
    this.#byKey ??= new Map(this.pairs.map((pair) => [pair.key.text, pair]));
    return this.#byKey.get(key);
  }

  get #scalar(): ScalarEvent | undefined {
    const event = this.#tree.events[this.#at];
    return event?.type === EVENT_ID.SCALAR ? event : undefined;
  }

  /** Characters of a quote at either end. */
  get #quote(): number {
    const style = this.#scalar?.style;
    return style === SCALAR_STYLE.SINGLE_QUOTED || style === SCALAR_STYLE.DOUBLE_QUOTED ? 1 : 0;
  }

  #findItems(): readonly YamlNode[] {
    const { text, events } = this.#tree;
    const made: YamlNode[] = [];
    for (const at of this.#parts()) {
      const event = events[at];
      // Only what is blank needs to know what stands before it, and ends are dear.
      const blank = event?.type === EVENT_ID.SCALAR && event.valueStart < 0;
      const after = blank ? (made.at(-1)?.end ?? lineStart(text, this.start)) : 0;
      made.push(new EventNode(this.#tree, at, after, this));
    }
    return made;
  }

  #findPairs(): readonly YamlPair[] {
    const made: YamlPair[] = [];
    const parts = this.#parts();
    for (let part = 0; part + 1 < parts.length; part += 2) {
      const at = parts[part] ?? 0;
      const key = new EventNode(this.#tree, at, pairEnd(made.at(-1)) ?? this.start, this);
      made.push({ key, value: new EventNode(this.#tree, parts[part + 1] ?? at, key.end, this) });
    }
    return made;
  }

  /** The events with which what is inside begins. */
  #parts(): readonly number[] {
    const { ends } = this.#tree;
    const parts: number[] = [];
    const close = ends[this.#at] ?? this.#at;
    for (let at = this.#at + 1; at < close; at = (ends[at] ?? at) + 1) parts.push(at);
    return parts;
  }

  #findEnd(): number {
    const { text } = this.#tree;
    if (this.isBlank) return this.start + (this.#isItem ? 1 : 0);
    if (this.isBlockText && this.#scalar !== undefined) {
      return blockEnd(text, this.start, this.valueEnd, this.#scalar);
    }
    if (this.kind === 'scalar') return this.valueEnd;
    const last = this.kind === 'map' ? pairEnd(this.pairs.at(-1)) : this.items.at(-1)?.end;
    // A single pair in a list may do without brackets of its own: [a: b].
    const hasBracket = this.isFlow && '[{'.includes(text[this.start] ?? ' ');
    return hasBracket ? pastBracket(text, last ?? this.start + 1) : (last ?? this.start);
  }
}

function isCollection(event: Event | undefined): event is SequenceEvent | MappingEvent {
  return event?.type === EVENT_ID.SEQUENCE || event?.type === EVENT_ID.MAPPING;
}

/** The first dash with nothing behind it, on a line that begins at an offset or below. */
function dashAfter(text: string, after: number): number {
  const dashes = /^[ \t]*(?:- +)*-[ \t]*\r?(?:#.*)?$/gm;
  dashes.lastIndex = after;
  const found = dashes.exec(text);
  return found === null ? after : found.index + found[0].replace(/#.*/, '').lastIndexOf('-');
}

/** Past the bracket that closes what has its last part before an offset. */
function pastBracket(text: string, from: number): number {
  for (let at = from; at < text.length; at++) {
    const character = text[at] ?? '';
    if (character === ']' || character === '}') return at + 1;
    if (character === '#' && /\s/.test(text[at - 1] ?? ' ')) at = text.indexOf('\n', at);
    if (at < 0) break;
  }
  return text.length;
}

/** The end of block text without the blank lines below it, unless `+` keeps them. */
function blockEnd(
  text: string,
  start: number,
  end: number,
  { chomping, indent }: ScalarEvent,
): number {
  if (chomping === CHOMPING_MODE.KEEP) return end;
  let last = end;
  while (last > start) {
    const line = Math.max(start, lineStart(text, last - 1));
    const shown = text.slice(line, last).replace(/\r?\n$/, '');
    if (/[^ ]/.test(shown) || shown.length > Math.max(0, indent)) break;
    last = line;
  }
  return last;
}
