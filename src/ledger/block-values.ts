import { endOfLine, indentAt, isItem, lineAfter } from './line-ends.ts';
import type { OneLineValues } from './one-line-value.ts';

/**
 * Reads an entry that is a map of lines below one another, in its plainest form: keys with plain
 * values on the same line, or with a map or list of such lines further in. As with `OneLineValues`
 * that is less than YAML allows; a comment, an empty line or anything else within is left to the library.
 */
export class BlockValues {
  readonly #text: string;
  readonly #values: OneLineValues;
  #at = 0;
  #lines = 0;
  /** Maps and lists that are open. */
  #depth = 0;

  constructor(text: string, values: OneLineValues) {
    this.#text = text;
    this.#values = values;
  }

  /** Where the line after the last map that was read begins. */
  get end(): number {
    return this.#at;
  }

  /** How many lines that map has. */
  get lines(): number {
    return this.#lines;
  }

  /** The map of an item of a list whose first key begins at an offset, so many columns in; undefined if it is none that can be read here. */
  mapAt(offset: number, column: number): Record<string, unknown> | undefined {
    this.#at = offset;
    this.#lines = 0;
    this.#depth = 0;
    const map = this.#map(column);
    return map !== undefined && this.#isOver(column) ? map : undefined;
  }

  #map(column: number): Record<string, unknown> | undefined {
    if (++this.#depth > DEEPEST) return undefined;
    const map: Record<string, unknown> = {};
    do {
      const key = this.#values.keyAt(this.#at);
      // A key that comes twice is an error: the library tells it.
      if (key === undefined || Object.hasOwn(map, key)) return undefined;
      const value = this.#behindKey(this.#values.end, column);
      if (value === undefined) return undefined;
      map[key] = value;
    } while (this.#isNext(column));
    this.#depth--;
    return map;
  }

  /** What stands behind the colon of a key, or on the lines below. */
  #behindKey(colon: number, column: number): unknown {
    const below = endOfLine(this.#text, colon);
    if (below < 0) {
      return this.#text.charCodeAt(colon) === SPACE ? this.#restOfLine(colon + 1) : undefined;
    }
    const inner = indentAt(this.#text, below);
    if (inner <= column) return undefined;
    this.#at = below + inner;
    this.#lines++;
    return isItem(this.#text, this.#at) ? this.#list(inner) : this.#map(inner);
  }

  #list(column: number): unknown[] | undefined {
    if (++this.#depth > DEEPEST) return undefined;
    const list: unknown[] = [];
    do {
      if (!isItem(this.#text, this.#at)) return undefined;
      this.#at += '- '.length;
      const isMap = this.#values.keyAt(this.#at) !== undefined;
      const item = isMap ? this.#map(column + '- '.length) : this.#restOfLine(this.#at);
      if (item === undefined) return undefined;
      list.push(item);
    } while (this.#isNext(column));
    this.#depth--;
    return list;
  }

  #restOfLine(from: number): unknown {
    let at = from;
    while (this.#text.charCodeAt(at) === SPACE) at++;
    const value = this.#values.valueAt(at);
    const next = value === undefined ? -1 : endOfLine(this.#text, this.#values.end);
    if (next < 0) return undefined;
    this.#at = next;
    this.#lines++;
    return value;
  }

  /** Whether the next line begins in a column; then goes there. */
  #isNext(column: number): boolean {
    if (this.#at === this.#text.length || indentAt(this.#text, this.#at) !== column) return false;
    this.#at += column;
    return true;
  }

  /** Whether nothing of the map can follow: what comes next, after comments and empty lines, stands further out. */
  #isOver(column: number): boolean {
    let at = this.#at;
    while (at < this.#text.length) {
      const content = at + indentAt(this.#text, at);
      const next = endOfLine(this.#text, content);
      if (next < 0 && this.#text.charCodeAt(content) !== HASH) return content - at < column - 1;
      at = next < 0 ? lineAfter(this.#text, content) : next;
    }
    return true;
  }
}

const [SPACE, HASH] = [32, 35];
/** More than any entry has, and few enough to call oneself for. */
const DEEPEST = 8;
