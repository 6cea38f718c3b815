import {
  CORE_SCHEMA,
  constructFromEvents,
  EVENT_ID,
  type Event,
  getScalarValue,
  parseEvents,
  SCALAR_STYLE,
  type ScalarEvent,
} from 'js-yaml';
import { type Diagnostic, diagnose } from '../diagnostics/diagnostic.ts';
import {
  keyWrong,
  mergeConflict,
  numberOdd,
  yamlAnchor,
  yamlDirective,
  yamlDocuments,
  yamlSyntax,
  yamlTab,
  yamlTag,
} from '../diagnostics/words/reading.ts';
import type { SourceFile } from '../source/source-file.ts';
import { yamlProblems } from './yaml-problems.ts';

export interface YamlRead {
  /** Plain maps, lists and scalars of the YAML 1.2 core schema; undefined where there are none. */
  readonly value: unknown;
  readonly diagnostics: readonly Diagnostic[];
}

const eventsOf = new WeakMap<SourceFile, readonly Event[]>();

/**
 * Reads one YAML document. What a ledger may not contain (anchors, tags, directives, a second
 * document, numbers that other readers take differently) is reported and nothing is built from it.
 */
export function readYaml(file: SourceFile): YamlRead {
  const read = readWhole(file);
  return read.diagnostics.length === 0
    ? read
    : { ...read, diagnostics: sayOfRest(read.diagnostics) };
}

/** Said once of a file of which nothing is taken. */
export const REST_UNCHECKED = 'the rest of this file is checked after that';

/** Says at the last place that what else is wrong with the file is not told yet. */
function sayOfRest(diagnostics: readonly Diagnostic[]): readonly Diagnostic[] {
  const last = diagnostics.reduce((a, b) => (startOf(b) >= startOf(a) ? b : a));
  return diagnostics.map((one) => {
    if (one !== last) return one;
    const advice = one.advice === '' ? 'put this right' : one.advice;
    return { ...one, advice: `${advice}; ${REST_UNCHECKED}` };
  });
}

function startOf({ at }: Diagnostic): number {
  return 'start' in at ? at.start : 0;
}

function readWhole(file: SourceFile): YamlRead {
  const conflict = conflictIn(file);
  if (conflict !== undefined) return { value: undefined, diagnostics: [conflict] };
  const loneReturn = file.text.includes('\r') ? LONE_RETURN.exec(file.text) : null;
  if (loneReturn !== null) {
    const at = { file, start: loneReturn.index, end: loneReturn.index + 1 };
    return { value: undefined, diagnostics: [diagnose(yamlSyntax, at, LONE_RETURN_WORDS)] };
  }
  const tab = file.text.includes('\t') ? BLANK_WITH_TAB.exec(file.text) : null;
  if (tab !== null) {
    const start = file.text.indexOf('\t', tab.index);
    return {
      value: undefined,
      diagnostics: [diagnose(yamlTab, { file, start, end: start + 1 }, {})],
    };
  }
  let events: Event[];
  try {
    events = parseEvents(file.text, {});
  } catch (thrown) {
    return { value: undefined, diagnostics: yamlProblems(file, thrown) };
  }
  eventsOf.set(file, events);
  const refused = refusals(file, events);
  if (refused.length > 0) return { value: undefined, diagnostics: refused };
  try {
    const [value] = constructFromEvents(events, { source: file.text, schema: CORE_SCHEMA });
    return { value, diagnostics: [] };
  } catch (thrown) {
    return { value: undefined, diagnostics: yamlProblems(file, thrown) };
  }
}

/**
 * Marks that git leaves where two versions do not go together, or what somebody left of them. None
 * of them can begin a line of a ledger.
 */
const CONFLICT_MARK = /^(?:<{7}|={7}|>{7}|\|{7})(?= |\r?$)/gm;

function conflictIn(file: SourceFile): Diagnostic | undefined {
  const { text } = file;
  if (!['<<<<<<<', '=======', '>>>>>>>', '|||||||'].some((mark) => text.includes(mark))) {
    return undefined;
  }
  const marks = [...text.matchAll(CONFLICT_MARK)];
  const begins = marks.filter(([mark]) => mark.startsWith('<'));
  const [first] = begins.length > 0 ? begins : marks;
  if (first === undefined) return undefined;
  const at = { file, start: first.index, end: first.index + first[0].length };
  return diagnose(mergeConflict, at, { others: Math.max(0, begins.length - 1) });
}

/** A line that shows nothing, but holds a tab: readers disagree on whether it is blank. */
const BLANK_WITH_TAB = /^ *\t[ \t]*\r?$/m;

/** A line end to YAML 1.2 (5.4), but not to every reader of YAML, nor to git. */
const LONE_RETURN = /\r(?!\n)/;
const LONE_RETURN_WORDS = {
  reason:
    'the line ends in a carriage return alone, which most programs do not take for a line end',
  advice: 'save the file with line ends LF or CRLF in your editor',
};

/** The events of a file, for finding places in it; none where the text cannot be read. */
export function yamlEvents(file: SourceFile): readonly Event[] {
  const known = eventsOf.get(file);
  if (known !== undefined) return known;
  try {
    return parseEvents(file.text, {});
  } catch {
    return [];
  }
}

function refusals(file: SourceFile, events: readonly Event[]): Diagnostic[] {
  const found: Diagnostic[] = [];
  const span = (start: number, end: number) => ({ file, start, end });
  const keys = new KeyPlaces();
  const [early] = endMarksBeforeText(file.text);
  if (early !== undefined) found.push(diagnose(yamlDocuments, span(early, early + 3), {}));
  let documents = 0;
  for (const event of events) {
    const key = keys.next(event);
    switch (event.type) {
      case EVENT_ID.POP:
        break;
      case EVENT_ID.DOCUMENT: {
        documents++;
        if (event.directives.length > 0) {
          const start = Math.max(0, file.text.search(/^%/m));
          found.push(diagnose(yamlDirective, span(start, lineEnd(file, start)), {}));
        }
        if (documents === 2 && early === undefined) {
          const start = secondDocument(file.text);
          found.push(diagnose(yamlDocuments, span(start, start + 3), {}));
        }
        break;
      }
      case EVENT_ID.ALIAS:
        found.push(anchored(file, event.anchorStart, event.anchorEnd));
        break;
      default:
        if (event.anchorStart >= 0) found.push(anchored(file, event.anchorStart, event.anchorEnd));
        if (event.tagStart >= 0) {
          const tag = file.text.slice(event.tagStart, event.tagEnd);
          found.push(diagnose(yamlTag, span(event.tagStart, event.tagEnd), { tag }));
        }
        if (event.type === EVENT_ID.SCALAR) {
          const odd = oddScalar(file, event, key);
          if (odd !== undefined) found.push(odd);
        }
    }
  }
  return found;
}

function oddScalar(
  file: SourceFile,
  event: ScalarEvent,
  key: KeyPlace | undefined,
): Diagnostic | undefined {
  const blank = event.valueStart < 0;
  const start = blank ? (key?.mapStart ?? 0) : event.valueStart;
  const at = { file, start, end: blank ? start + 1 : event.valueEnd };
  const plain = event.style === SCALAR_STYLE.PLAIN;
  const number = plain && !blank ? oddNumber(file.text, event) : undefined;
  if (number !== undefined) return diagnose(numberOdd, at, { source: number });
  if (key === undefined || (plain && !blank && isWord(file.text.charCodeAt(start))))
    return undefined;
  const text = blank ? '' : getScalarValue(file.text, event);
  const why = oddKey(text, plain);
  if (why === 'number') return diagnose(numberOdd, at, { source: text });
  if (why === undefined) return undefined;
  return diagnose(keyWrong, at, { key: text === '' ? '""' : text, expected: why });
}

/** Whether a plain key begins as no number does, nor true, false or null: most keys need no closer look. */
function isWord(first: number): boolean {
  const isLetter = first >= 97 && first <= 122;
  return isLetter && first !== LETTER_F && first !== LETTER_N && first !== LETTER_T;
}

const [LETTER_F, LETTER_N, LETTER_T] = [102, 110, 116];

function anchored(file: SourceFile, start: number, end: number): Diagnostic {
  // The range of an anchor leaves out its & or *.
  const from = '&*'.includes(file.text[start - 1] ?? ' ') ? start - 1 : start;
  return diagnose(yamlAnchor, { file, start: from, end }, { what: file.text.slice(from, end) });
}

/**
 * Leading zeros, 0x, 0o, 0b, exponents, infinities and numbers past 2^53: legal YAML, but readers
 * of YAML 1.1 and 1.2 take them for different numbers, or lose digits.
 */
const ODD_NUMBER =
  /^[-+]?(?:0\d[\d_]*(?:\.\d*)?|0[xob][\da-f_]+|(?:\d[\d_]*\.?\d*|\.\d+)e[-+]?\d+|\d[\d_]*_[\d_]*|\d{16,}|\.(?:inf|nan))$/i;

function oddNumber(text: string, event: ScalarEvent): string | undefined {
  const first = text.charCodeAt(event.valueStart);
  // Digits, + - and the full stop: nothing else begins a number.
  if (!((first >= 48 && first <= 57) || first === 43 || first === 45 || first === 46))
    return undefined;
  const source = text.slice(event.valueStart, event.valueEnd);
  return ODD_NUMBER.test(source) ? source : undefined;
}

function lineEnd(file: SourceFile, start: number): number {
  const end = file.text.indexOf('\n', start);
  return end < 0 ? file.text.length : end;
}

/** Marks that end a document although text follows: readers disagree on what is left of it. */
function endMarksBeforeText(text: string): readonly number[] {
  // Full stops are common, three of them in one place after a line end are not; regular expressions know two more line ends.
  if (!text.startsWith('...') && !/[\n\u2028\u2029]\.\.\./.test(text)) return [];
  const marks = [...text.matchAll(/^\.\.\.(?=\s|$)/gm)].map((mark) => mark.index);
  const content = text.matchAll(/^(?:\.\.\.[ \t]+|(?!\.\.\.(?:\s|$))[ \t]*)[^\s#]/gm);
  const last = [...content].at(-1)?.index ?? -1;
  return marks.filter((mark) => mark <= last);
}

function secondDocument(text: string): number {
  const marks = [...text.matchAll(/^(?:---|\.\.\.)(?=\s|$)/gm)].map((mark) => mark.index);
  const content = text.search(/^(?!---|\.\.\.)[^\s#%]/m);
  return marks.find((mark) => mark > content) ?? marks.at(-1) ?? 0;
}

/** That an event is the key of a map, and where the map begins. */
interface KeyPlace {
  readonly mapStart: number;
}

interface Open {
  /** Absent where what is open is no map. */
  readonly place: KeyPlace | undefined;
  keyComesNext: boolean;
}

/** Tells keys from values while the events of a file go by. */
class KeyPlaces {
  readonly #open: Open[] = [];

  next(event: Event): KeyPlace | undefined {
    if (event.type === EVENT_ID.POP) {
      this.#open.pop();
      return undefined;
    }
    const parent = this.#open.at(-1);
    let key: KeyPlace | undefined;
    if (parent?.place !== undefined) {
      if (parent.keyComesNext) key = parent.place;
      parent.keyComesNext = !parent.keyComesNext;
    }
    if (event.type === EVENT_ID.MAPPING) {
      this.#open.push({ place: { mapStart: event.start }, keyComesNext: true });
    } else if (event.type === EVENT_ID.SEQUENCE) {
      this.#open.push({ place: undefined, keyComesNext: false });
    } else if (event.type === EVENT_ID.DOCUMENT) {
      this.#open.push({ place: undefined, keyComesNext: false });
    }
    return key;
  }
}

/**
 * Why a key would not come through as it stands in the file, or undefined if it does. Readers of
 * YAML turn `1.10` into 1.1 and `~` into null before they make a key of it, each in its own way;
 * and `__proto__` is a word that JavaScript objects treat apart, which libraries drop unseen.
 */
function oddKey(text: string, plain: boolean): string | undefined {
  if (text === '__proto__') return 'another word';
  if (!plain) return undefined;
  if (/^(?:~|null|true|false)?$/i.test(text)) {
    return /^(?:null|true|false)$/.test(text) ? undefined : 'a word, in quotes if this is one';
  }
  const isNumber = /^[-+]?(?:\d+\.?\d*|\.\d+)$/.test(text);
  return isNumber && String(Number(text)) !== text ? 'number' : undefined;
}
