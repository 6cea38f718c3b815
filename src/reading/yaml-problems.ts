import { YAMLException } from 'js-yaml';
import type { YAMLParseError } from 'yaml';
import { type Diagnostic, diagnose } from '../diagnostics/diagnostic.ts';
import {
  emptyMapFilled,
  yamlDuplicateKey,
  yamlSyntax,
  yamlTab,
} from '../diagnostics/words/reading.ts';
import { parseDocument } from '../source/late.ts';
import { positionAt } from '../source/position.ts';
import type { SourceFile } from '../source/source-file.ts';
import { flowSlip } from './flow-slip.ts';

/**
 * Past this size, or with a line this long, one mark must do. The collecting reader takes time with
 * the square of the keys of a map, and memory past all bounds on lines of nothing but brackets or
 * dashes; a file that a person typed has neither.
 */
const MAX_TEXT_FOR_ALL_PROBLEMS = 300_000;
const MAX_LINE_FOR_ALL_PROBLEMS = 5_000;
/** Up to this size the collecting reader looks for repeated keys as well. */
const MAX_TEXT_FOR_ALL_REPEATS = 100_000;

/**
 * Everything wrong with the syntax of a file that the fast reader refused. The fast reader stops at
 * its first complaint, so the file is read again by `yaml`, which collects them.
 */
export function yamlProblems(file: SourceFile, thrown: unknown): readonly Diagnostic[] {
  const odd = oddCharacter(file);
  if (odd !== undefined) return [odd];
  const empty = EMPTY_MAP.exec(file.text);
  if (empty !== null && /^(?!\{\})[^\s#]/m.test(file.text)) {
    const at = { file, start: empty.index, end: empty.index + 2 };
    const without = `${file.text.slice(0, at.start)}  ${file.text.slice(at.end)}`;
    return [diagnose(emptyMapFilled, at, {}), ...collect(file, without)];
  }
  const tooDeep = thrown instanceof YAMLException && /maxDepth/.test(thrown.reason);
  const collected = tooDeep ? [] : collect(file);
  return collected.length > 0 ? collected : [firstProblem(file, thrown)];
}

/** "Nothing is listed", on a line of its own. */
const EMPTY_MAP = /^\{\}(?=[ \t]*(?:#.*)?\r?$)/m;

function isReasonable(text: string): boolean {
  if (text.length > MAX_TEXT_FOR_ALL_PROBLEMS) return false;
  return text.split('\n').every((line) => line.length <= MAX_LINE_FOR_ALL_PROBLEMS);
}

/** What YAML 1.2 (5.1) does not count as printable, less the line ends and the tab. */
const UNPRINTABLE =
  // biome-ignore lint/suspicious/noControlCharactersInRegex: these are what is looked for
  /[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f-\u0084\u0086-\u009f\ufffe\uffff]/;

function oddCharacter(file: SourceFile): Diagnostic | undefined {
  const found = UNPRINTABLE.exec(file.text);
  if (found === null) return undefined;
  const code = found[0].charCodeAt(0).toString(16).toUpperCase().padStart(4, '0');
  const at = { file, start: found.index, end: found.index + 1 };
  return diagnose(yamlSyntax, at, {
    reason: `there is a character here that cannot be seen (U+${code})`,
    advice:
      found[0] === '\0'
        ? 'save the file as UTF-8 text in your editor: it looks like another encoding, or no text at all'
        : 'delete it: it came in with a paste or a slip of the keyboard',
  });
}

/**
 * How `yaml` must read to take a file as the fast reader does: the core schema of YAML 1.2, whatever
 * a directive says, and keys as they stand in the file. A test holds the two in agreement.
 */
export const AS_FAST_READER = {
  version: '1.2',
  schema: 'core',
  strict: true,
  uniqueKeys: true,
  stringKeys: true,
  merge: false,
  resolveKnownTags: false,
  prettyErrors: false,
  logLevel: 'silent',
} as const;

/** @param text what is read: the file's, or one of the same length, so that places agree */
function collect(file: SourceFile, text = file.text): Diagnostic[] {
  if (!isReasonable(text)) return [];
  try {
    const uniqueKeys = text.length <= MAX_TEXT_FOR_ALL_REPEATS;
    const document = parseDocument(text, { ...AS_FAST_READER, uniqueKeys });
    const byLine = new Map<number, YAMLParseError[]>();
    const hasTabs = document.errors.some(({ code }) => code === 'TAB_AS_INDENT');
    for (const error of document.errors) {
      if (error.code === 'RESOURCE_EXHAUSTION') continue;
      // A tab puts the lines after it out of place as well: told first, they may be right.
      if (hasTabs && !['TAB_AS_INDENT', 'DUPLICATE_KEY'].includes(error.code)) continue;
      const { line } = positionAt(file, error.pos[0]);
      const before = byLine.get(line);
      if (before === undefined) byLine.set(line, [error]);
      else if (before.length < MOST_OF_A_LINE) before.push(error);
    }
    return [...byLine.values()].flatMap((errors) => ofLine(file, errors));
  } catch {
    // Nested so deep that the second reader gave up: the first reader's mark stands.
    return [];
  }
}

const MOST_OF_A_LINE = 20;

/** One slip often sets off a string of complaints on its line: the first is told, and repeated keys. */
function ofLine(file: SourceFile, errors: readonly YAMLParseError[]): Diagnostic[] {
  const codes = new Set(errors.map((error) => error.code));
  const shifted = codes.has('BLOCK_AS_IMPLICIT_KEY') && codes.has('MULTILINE_IMPLICIT_KEY');
  const repeats = errors.filter((error) => error.code === 'DUPLICATE_KEY');
  const told = errors.find((error) => error.code !== 'DUPLICATE_KEY');
  const slip = slipOf(file, errors);
  return [
    ...repeats.map(({ code, pos, message }) => problem(file, code, pos, message)),
    ...(slip === undefined ? [] : [slip]),
    ...(slip !== undefined || told === undefined
      ? []
      : [problem(file, shifted ? 'SHIFTED' : told.code, told.pos, told.message)]),
  ];
}

/** Two keys on one line with no comma between, or a text with a colon in it. */
function slipOf(file: SourceFile, errors: readonly YAMLParseError[]): Diagnostic | undefined {
  const { text } = file;
  const of = (code: string) => errors.find((error) => error.code === code);
  const inFlow = of('BLOCK_IN_FLOW');
  const apart = errors.some(({ message }) => message.startsWith('Missing , between flow map'));
  const after = apart ? of('UNEXPECTED_TOKEN') : undefined;
  const nested = of('BLOCK_AS_IMPLICIT_KEY');
  const slip =
    inFlow !== undefined
      ? flowSlip(text, inFlow.pos[0], inFlow.pos[1], true)
      : after !== undefined
        ? flowSlip(text, lastBefore(text, after.pos[0]), lineEndAt(text, after.pos[0]), true)
        : nested !== undefined && of('MULTILINE_IMPLICIT_KEY') === undefined
          ? flowSlip(text, nested.pos[0], lineEndAt(text, nested.pos[0]), false)
          : undefined;
  if (slip === undefined) return undefined;
  const { start, end, reason, advice } = slip;
  return diagnose(yamlSyntax, { file, start, end }, { reason, advice });
}

/** The last sign before a place that is no blank. */
function lastBefore(text: string, start: number): number {
  return Math.max(0, text.slice(0, start).trimEnd().length - 1);
}

function lineEndAt(text: string, start: number): number {
  const end = text.indexOf('\n', start);
  return end < 0 ? text.length : end;
}

function problem(
  file: SourceFile,
  code: string,
  [from, to]: readonly [number, number],
  message: string,
): Diagnostic {
  const start = Math.min(from, lastOfText(file));
  const end = Math.max(to, start);
  const at = { file, start, end: Math.max(end, start + 1) };
  const word = /^[^\s:,{}[\]]+/.exec(file.text.slice(start))?.[0] ?? '';
  if (code === 'TAB_AS_INDENT') return diagnose(yamlTab, at, {});
  if (code === 'DUPLICATE_KEY') return diagnose(yamlDuplicateKey, at, { key: word });
  const known = PLAIN_WORDS[code];
  return known === undefined
    ? diagnose(yamlSyntax, at, {
        reason: `this cannot be read as YAML: ${lowerFirst(message)}`,
        advice: '',
      })
    : diagnose(yamlSyntax, at, known);
}

/** The slips people make, in their words; the rarer ones keep the reader's own. */
const PLAIN_WORDS: Readonly<Record<string, { reason: string; advice: string }>> = {
  BAD_INDENT: {
    reason: 'this line is not indented like its neighbours, or a bracket before it is not closed',
    advice: 'line it up with the entries above, and close every [ and {',
  },
  MISSING_CHAR: {
    reason: 'something is missing here: a comma, a colon, a closing bracket or a quote',
    advice: 'compare with an entry above; a list reads [52.4, 47], a map { fruit: 3, bird: 1 }',
  },
  BLOCK_AS_IMPLICIT_KEY: {
    reason: 'there are two keys on one line, or a text has a colon in it',
    advice: 'put text that has ": " in it in quotes',
  },
  UNEXPECTED_TOKEN: {
    reason: 'YAML cannot read what is here',
    advice: 'put text that begins with a special character in quotes',
  },
  MULTILINE_IMPLICIT_KEY: {
    reason: 'a key runs over more than one line',
    advice: 'check for a missing colon or bracket on the lines above',
  },
  BLOCK_IN_FLOW: {
    reason: 'a new line item begins inside brackets',
    advice: 'close the bracket above first',
  },
  SHIFTED: {
    reason: 'this line and the next are not indented alike, or a colon is missing',
    advice: 'line up keys that belong together, one below the other',
  },
  BAD_ALIAS: {
    reason: 'text that begins with & or * has a meaning of its own in YAML',
    advice: 'put it in quotes',
  },
  BAD_SCALAR_START: {
    reason: 'text cannot begin with this character',
    advice: 'put it in quotes',
  },
  NON_STRING_KEY: {
    reason: 'there is a list or a map where a key belongs',
    advice: 'a key is one word before the colon: check the brackets and the dashes',
  },
  KEY_OVER_1024_CHARS: {
    reason: 'a key is longer than 1024 characters',
    advice: 'check for a missing line end or quote on the lines above',
  },
  BAD_DQ_ESCAPE: {
    reason: 'a backslash in double quotes begins an escape that does not exist',
    advice: 'use single quotes, or write the backslash twice',
  },
};

const TOO_DEEP = {
  reason: 'lists or maps are nested too deep here',
  advice: 'check for brackets that are not closed',
};

const TAB_BETWEEN = {
  reason: 'there is a tab between two values',
  advice: 'put a space in its place',
};

const SET_IN_TOO_LITTLE = {
  reason: 'this line inside brackets is not indented far enough',
  advice: 'indent each line further than the line on which the bracket opens',
};

function firstProblem(file: SourceFile, thrown: unknown): Diagnostic {
  const isYaml = thrown instanceof YAMLException;
  const start = isYaml ? Math.min(thrown.mark?.position ?? 0, lastOfText(file)) : 0;
  const at = { file, start, end: start + 1 };
  if (!isYaml || /maxDepth/.test(thrown.reason)) return diagnose(yamlSyntax, at, TOO_DEEP);
  const { reason } = thrown;
  if (reason === 'deficient indentation') {
    const tab = file.text.lastIndexOf('\t', start);
    const isTab = tab >= 0 && /^\s*$/.test(file.text.slice(tab, start));
    const where = isTab ? { file, start: tab, end: tab + 1 } : at;
    return diagnose(yamlSyntax, where, isTab ? TAB_BETWEEN : SET_IN_TOO_LITTLE);
  }
  if (/tab characters/.test(reason)) return diagnose(yamlTab, at, {});
  if (/duplicated mapping key/.test(reason)) {
    const word = /^[^\s:,{}[\]]+/.exec(file.text.slice(start))?.[0] ?? 'the key';
    return diagnose(yamlDuplicateKey, at, { key: word });
  }
  return diagnose(yamlSyntax, at, { reason: `this cannot be read as YAML: ${reason}`, advice: '' });
}

/** What is missed only at the end of a file is shown where its text ends, not on a line below. */
function lastOfText(file: SourceFile): number {
  return file.text.trimEnd().length;
}

function lowerFirst(text: string): string {
  return text.charAt(0).toLowerCase() + text.slice(1);
}
