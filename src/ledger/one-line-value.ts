/** A map or list as it stands in a file, plain values in it. */
export type Collection = Record<string, unknown> | unknown[];

/**
 * Reads `{ on: 2026-09-01, tree: G1, weights: [41.2, 38], note: soft at the eye }` or `[G1, G3]`, or what
 * may stand in one, on one line in its plainest form: what a season file is mostly made of.
 *
 * What it takes is less than YAML allows, so that no reader of YAML can take it otherwise: plain words,
 * decimal numbers, dates, text in double quotes without backslashes, lists and maps of these. Of
 * anything else it says that it cannot read it, and leaves it to the library.
 */
export class OneLineValues {
  readonly #text: string;
  #at = 0;
  /** Maps and lists that are open. */
  #depth = 0;

  constructor(text: string) {
    this.#text = text;
  }

  /** Where the last collection or key that was read ends. */
  get end(): number {
    return this.#at;
  }

  /** The map or list that begins at an offset; undefined if it is none that can be read here. */
  collectionAt(offset: number): Collection | undefined {
    this.#at = offset;
    this.#depth = 0;
    const first = this.#text.charCodeAt(offset);
    if (first === OPEN_MAP) return this.#map();
    return first === OPEN_LIST ? this.#list() : undefined;
  }

  /** What stands from an offset to the end of the line, in brackets or not; undefined if it cannot be read here. */
  valueAt(offset: number): unknown {
    this.#at = offset;
    this.#depth = 0;
    return this.#value();
  }

  /** A plain or quoted key at an offset with its colon, which a space or the end of the line follows; undefined if there is none. */
  keyAt(offset: number): string | undefined {
    this.#at = offset;
    return this.#key();
  }

  #map(): Record<string, unknown> | undefined {
    if (++this.#depth > DEEPEST) return undefined;
    this.#at++;
    const map: Record<string, unknown> = {};
    do {
      this.#skipSpaces();
      const key = this.#key();
      // A key that comes twice is an error: the library tells it.
      if (key === undefined || Object.hasOwn(map, key)) return undefined;
      this.#skipSpaces();
      const value = this.#value();
      if (value === undefined) return undefined;
      map[key] = value;
    } while (this.#isNext(COMMA));
    this.#depth--;
    return this.#isNext(CLOSE_MAP) ? map : undefined;
  }

  #list(): unknown[] | undefined {
    const list: unknown[] = [];
    if (++this.#depth > DEEPEST) return undefined;
    this.#at++;
    do {
      this.#skipSpaces();
      const item = this.#value();
      if (item === undefined) return undefined;
      list.push(item);
    } while (this.#isNext(COMMA));
    this.#depth--;
    return this.#isNext(CLOSE_LIST) ? list : undefined;
  }

  #value(): unknown {
    const first = this.#text.charCodeAt(this.#at);
    if (first === OPEN_LIST) return this.#list();
    if (first === OPEN_MAP) return this.#map();
    if (first === QUOTE) return this.#quoted();
    const start = this.#at;
    const end = this.#wordEnd(start);
    if (end === start) return undefined;
    if (isLetter(first)) return isWordOfYaml(this.#text, start, end) ? undefined : this.#cut(end);
    const source = this.#cut(end);
    if (NUMBER.test(source)) return Number(source);
    return DATE.test(source) ? source : undefined;
  }

  #key(): string | undefined {
    const start = this.#at;
    const first = this.#text.charCodeAt(start);
    let key: string | undefined;
    if (first === QUOTE) key = this.#quoted();
    else if (isLetter(first)) {
      let end = start + 1;
      while (isKeyPart(this.#text.charCodeAt(end))) end++;
      if (!isWordOfYaml(this.#text, start, end)) key = this.#cut(end);
    }
    // An empty key and one that JavaScript takes apart have errors of their own.
    if (key === undefined || key === '' || key === '__proto__') return undefined;
    // YAML allows no more.
    if (key.length > 1000) return undefined;
    if (this.#text.charCodeAt(this.#at) !== COLON) return undefined;
    const next = this.#text.charCodeAt(++this.#at);
    return next === SPACE || isLineEnd(next) ? key : undefined;
  }

  /** Text in double quotes, on one line and without backslashes. */
  #quoted(): string | undefined {
    const start = this.#at + 1;
    let end = start;
    let code = this.#text.charCodeAt(end);
    while (code !== QUOTE) {
      if (code === BACKSLASH || !isInText(code)) return undefined;
      code = this.#text.charCodeAt(++end);
    }
    this.#at = end + 1;
    return this.#text.slice(start, end);
  }

  /** Where a run of plain words ends, less the spaces after it. */
  #wordEnd(start: number): number {
    let end = start;
    let code = this.#text.charCodeAt(end);
    while (isInWords(code)) code = this.#text.charCodeAt(++end);
    const isWhole =
      this.#depth === 0
        ? isLineEnd(code)
        : code === COMMA || code === CLOSE_MAP || code === CLOSE_LIST;
    if (!isWhole) return start;
    while (end > start && this.#text.charCodeAt(end - 1) === SPACE) end--;
    return end;
  }

  #cut(end: number): string {
    const piece = this.#text.slice(this.#at, end);
    this.#at = end;
    return piece;
  }

  /** Whether a sign comes next, after spaces; then goes past it. */
  #isNext(sign: number): boolean {
    this.#skipSpaces();
    if (this.#text.charCodeAt(this.#at) !== sign) return false;
    this.#at++;
    return true;
  }

  #skipSpaces(): void {
    while (this.#text.charCodeAt(this.#at) === SPACE) this.#at++;
  }
}

const LINE_FEED = 10;
const RETURN = 13;
const SPACE = 32;
const QUOTE = 34;
const COMMA = 44;
const COLON = 58;
const OPEN_LIST = 91;
const BACKSLASH = 92;
const CLOSE_LIST = 93;
const OPEN_MAP = 123;
const CLOSE_MAP = 125;

/** More than any entry has, and few enough to call oneself for. */
const DEEPEST = 8;

/** Fifteen digits at most: more would be rounded, and that has an error of its own. */
const NUMBER = /^(?:-(?![0.]+$))?(?:0|[1-9]\d{0,8})(?:\.\d{1,6})?$/;
const DATE = /^\d{4}-\d\d-\d\d$/;

/** Also the end of the text, where there is no code. */
function isLineEnd(code: number): boolean {
  return code === LINE_FEED || code === RETURN || Number.isNaN(code);
}

function isLetter(code: number): boolean {
  return (code >= 97 && code <= 122) || (code >= 65 && code <= 90) || isLatin(code);
}

/** Letters of the alphabet with marks, as in names. */
function isLatin(code: number): boolean {
  return code >= 0xc0 && code <= 0x24f && code !== 0xd7 && code !== 0xf7;
}

function isDigit(code: number): boolean {
  return code >= 48 && code <= 57;
}

/** - . _ */
function isKeyPart(code: number): boolean {
  return isLetter(code) || isDigit(code) || code === 45 || code === 46 || code === 95;
}

/** What plain text may hold without a closer look: also space ' ( ) / % and +. */
function isInWords(code: number): boolean {
  return (
    isKeyPart(code) ||
    code === SPACE ||
    (code >= 39 && code <= 41) ||
    code === 47 ||
    code === 37 ||
    code === 43
  );
}

/** Printable and of one line. */
function isInText(code: number): boolean {
  return (code >= 32 && code <= 126) || isLatin(code);
}

/** Whether letters are null, true or false, however written. */
function isWordOfYaml(text: string, start: number, end: number): boolean {
  const length = end - start;
  return (length === 4 || length === 5) && /^(?:null|true|false)$/i.test(text.slice(start, end));
}
