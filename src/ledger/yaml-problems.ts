import { YAMLException } from 'js-yaml';
import { LineCounter, parseDocument } from 'yaml';
import { type Diagnostic, diagnose } from '../diagnostics/diagnostic.ts';
import { yamlDuplicateKey, yamlSyntax, yamlTab } from '../diagnostics/words/reading.ts';
import type { SourceFile } from '../source/source-file.ts';

/** Past this size one mark must do: naming every slip would take longer than mending the first. */
const MAX_TEXT_FOR_ALL_PROBLEMS = 2_000_000;

/**
 * Everything wrong with the syntax of a file that the fast reader refused. The fast reader stops at
 * its first complaint, so the file is read again by `yaml`, which collects them.
 */
export function yamlProblems(file: SourceFile, thrown: unknown): readonly Diagnostic[] {
  const collected = file.text.length > MAX_TEXT_FOR_ALL_PROBLEMS ? [] : collect(file);
  return collected.length > 0 ? collected : [firstProblem(file, thrown)];
}

function collect(file: SourceFile): Diagnostic[] {
  try {
    const document = parseDocument(file.text, {
      version: '1.2',
      schema: 'core',
      strict: true,
      uniqueKeys: true,
      stringKeys: true,
      merge: false,
      resolveKnownTags: false,
      prettyErrors: false,
      lineCounter: new LineCounter(),
      logLevel: 'silent',
    });
    const seen = new Set<string>();
    const found: Diagnostic[] = [];
    for (const { code, pos, message } of document.errors) {
      // One slip often sets off a string of complaints on the same line.
      const line = file.text.lastIndexOf('\n', Math.max(0, pos[0] - 1));
      if (seen.has(`${line} ${code}`)) continue;
      seen.add(`${line} ${code}`);
      found.push(problem(file, code, pos, message));
    }
    return found;
  } catch {
    // Nested so deep that the second reader gave up: the first reader's mark stands.
    return [];
  }
}

function problem(
  file: SourceFile,
  code: string,
  [start, end]: readonly [number, number],
  message: string,
): Diagnostic {
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
    reason:
      'this line is set in differently from its neighbours, or a bracket before it is not closed',
    advice: 'line it up with the entries above, and close every [ and {',
  },
  MISSING_CHAR: {
    reason: 'something is missing here: a comma, a colon, a closing bracket or a quote',
    advice: 'compare with an entry above; a list reads [52.4, 47], a map { fruit: 3, bird: 1 }',
  },
  BLOCK_AS_IMPLICIT_KEY: {
    reason: 'two keys stand on one line, or a text has a colon in it',
    advice: 'put text that has ": " in it in quotes',
  },
  UNEXPECTED_TOKEN: {
    reason: 'this sign does not belong here',
    advice: 'put text that begins with a special sign in quotes',
  },
  MULTILINE_IMPLICIT_KEY: {
    reason: 'a key runs over more than one line',
    advice: 'check for a missing colon or bracket on the lines above',
  },
  BLOCK_IN_FLOW: {
    reason: 'a new line item begins inside brackets',
    advice: 'close the bracket above first',
  },
  BAD_ALIAS: {
    reason: 'text that begins with * reads as an alias',
    advice: 'put it in quotes',
  },
  BAD_DQ_ESCAPE: {
    reason: 'a backslash in double quotes begins an escape that does not exist',
    advice: 'use single quotes, or write the backslash twice',
  },
};

function firstProblem(file: SourceFile, thrown: unknown): Diagnostic {
  const isYaml = thrown instanceof YAMLException;
  const start = isYaml ? (thrown.mark?.position ?? 0) : 0;
  const reason = isYaml ? thrown.reason : 'it is nested too deep';
  const at = { file, start, end: start + 1 };
  if (/tab characters/.test(reason)) return diagnose(yamlTab, at, {});
  if (/duplicated mapping key/.test(reason)) {
    const word = /^[^\s:,{}[\]]+/.exec(file.text.slice(start))?.[0] ?? 'the key';
    return diagnose(yamlDuplicateKey, at, { key: word });
  }
  return diagnose(yamlSyntax, at, { reason: `this cannot be read as YAML: ${reason}`, advice: '' });
}

function lowerFirst(text: string): string {
  return text.charAt(0).toLowerCase() + text.slice(1);
}
