import { describe, expect, it } from 'vitest';
import { isNode } from 'yaml';
import type { LocatedDiagnostic } from '../../src/diagnostics/diagnostic.ts';
import { readLedger } from '../../src/reading/read-ledger.ts';
import { located } from '../../src/reading/yaml-locate.ts';
import { readYaml } from '../../src/reading/yaml-read.ts';
import { rootNode } from '../../src/writing/yaml-nodes.ts';
import { editing } from '../support/both-readers.ts';
import { checkFiles, type Files } from '../support/check-files.ts';
import { SMALL_EXAMPLE } from '../support/small-example.ts';
import { type ReferenceCase, readReference } from './read-reference.ts';

/** A test of the suite, as pomary takes it. */
interface Taken {
  readonly id: string;
  readonly text: string;
  /** The suite says that the text is no YAML. */
  readonly isError: boolean;
  /** What the suite wants, no document at all counting as null; undefined if it gives no JSON. */
  readonly wanted: unknown;
  readonly value: unknown;
  /** What pomary has against the text, with places; none where it takes it. */
  readonly told: readonly LocatedDiagnostic[];
}

const suite = readReference('yaml-test-suite').cases.map(take);
const taken = suite.filter(({ told }) => told.length === 0);

function take({ id, data, expected }: ReferenceCase): Taken {
  const { yaml: text } = data;
  if (typeof text !== 'string') throw new TypeError(`${id} has no YAML`);
  const { value, diagnostics } = readYaml({ path: 'x.yaml', text, bom: false });
  const told = located(diagnostics);
  const isError = expected['error'] === true;
  return {
    id,
    text,
    isError,
    wanted: told.length === 0 ? wantedOf(expected['json']) : null,
    value: value ?? null,
    told,
  };
}

/** Several documents are several JSON texts, which no parser of JSON takes: pomary refuses those. */
function wantedOf(json: unknown): unknown {
  if (typeof json !== 'string') return undefined;
  return json === '' ? null : JSON.parse(json);
}

/** How many there are of each word. */
function tally(words: readonly string[]): Readonly<Record<string, number>> {
  const found: Record<string, number> = {};
  for (const word of words) found[word] = (found[word] ?? 0) + 1;
  return found;
}

/** What lacks words or a place inside its file. */
function untold(told: readonly LocatedDiagnostic[]): readonly LocatedDiagnostic[] {
  return told.filter(({ at, message, advice }) => {
    const hasWords = /\S/.test(message) && !/undefined|NaN|\[object/.test(message + advice);
    return !hasWords || at.start < 0 || at.end < at.start || at.end > at.file.text.length;
  });
}

describe('the YAML test suite', () => {
  it('is taken as far as a ledger goes, and refused beyond', () => {
    expect(suite).toHaveLength(402);
    expect(new Set(suite.map(({ id }) => id)).size).toBe(402);
    const ruleOf = ({ told }: Taken) => told[0]?.rule ?? 'taken';
    expect(tally(suite.filter(({ isError }) => isError).map(ruleOf))).toEqual({
      'yaml-syntax': 83,
      'yaml-tab': 10,
      'key-twice': 1,
    });
    expect(tally(suite.filter(({ isError }) => !isError).map(ruleOf))).toEqual({
      taken: 198,
      'yaml-anchor': 30,
      'yaml-tag': 23,
      'yaml-documents': 16,
      'yaml-directive': 12,
      // A list or a map as a key, or a key that is empty.
      'yaml-syntax': 10,
      'key-wrong': 10,
      // A tab in a line that shows nothing.
      'yaml-tab': 9,
    });
  });

  it('is never taken where it says that a text is no YAML', () => {
    expect(taken.filter(({ isError }) => isError)).toEqual([]);
  });

  it('has the values that pomary takes from it', () => {
    const withValue = taken.filter(({ wanted }) => wanted !== undefined);
    // The suite has no JSON for 4ABK.
    expect(withValue).toHaveLength(197);
    for (const { id, value, wanted } of withValue) expect([id, value]).toEqual([id, wanted]);
  });

  it('has the same values for tidying as for reports', () => {
    for (const { id, text, value } of taken) {
      expect([id, editing(text)]).toEqual([id, { value }]);
      const root = rootNode(text);
      expect([id, isNode(root) ? root.toJSON() : null]).toEqual([id, value]);
    }
  });

  it('is refused with words and a place in the text', () => {
    expect(suite.flatMap(({ told }) => untold(told))).toEqual([]);
  });

  it.each(Object.keys(SMALL_EXAMPLE))('is not taken for %s, and told why, with a place', (path) => {
    for (const { id, text } of suite) {
      const found = checkFiles({ ...SMALL_EXAMPLE, [path]: text });
      const errors = found.filter(({ severity }) => severity === 'error');
      if (errors.length === 0 || untold(found).length > 0) expect.soft([id, found]).toBe('told');
    }
  });
});

describe('a note', () => {
  it('holds any text of the YAML test suite in quotes', () => {
    for (const { id, text } of suite) {
      const { note, found } = readNote(JSON.stringify(text));
      expect([id, note, found]).toEqual([id, text, []]);
    }
  });

  it('holds it in a text block, or a tab in a line that shows nothing is told', () => {
    const refused: string[] = [];
    for (const { id, text } of suite) {
      const { note, found } = readNote(`|2+\n${setIn(text, '      ')}`);
      // A last line that the end of the file cuts short gets its line end.
      const whole = text.replace(/(?<=[^\n])$/, '\n');
      if (found.length === 0) expect([id, note]).toEqual([id, whole]);
      else refused.push(...found.map(({ rule }) => rule));
      expect(untold(found)).toEqual([]);
    }
    expect(tally(refused)).toEqual({ 'yaml-tab': 10 });
  });

  it('has the value that the suite wants where the value is text', () => {
    let texts = 0;
    for (const { id, text, wanted, told } of suite) {
      const { note, found } = readNote(`\n${setIn(text, '        ')}`);
      expect(untold(found)).toEqual([]);
      // Further in, a mark of a document is text like any other.
      if (told.length > 0 || typeof wanted !== 'string' || /^(?:---|\.\.\.)/m.test(text)) continue;
      expect([id, note, found]).toEqual([id, wanted, []]);
      texts++;
    }
    expect(texts).toBe(31);
  });

  it('has the same value for tidying as for reports where its entry stands on one line', () => {
    const lines = new Set(suite.flatMap(({ text }) => [JSON.stringify(text), ...text.split('\n')]));
    let same = 0;
    for (const line of lines) {
      const season = `season: 2026\nevents:\n  - { on: 2026-08-30, tree: G3, kind: water, note: ${line} }\n`;
      const { note, found } = readSeason(season);
      expect(untold(found)).toEqual([]);
      if (found.length > 0) continue;
      same++;
      const read = editing(season);
      const value = 'value' in read ? read.value : read.refused;
      expect([line, value]).toMatchObject([line, { events: [{ note: note ?? null }] }]);
    }
    expect(same).toBe(601);
  });
});

/** Every line of a text that is not empty set in. */
function setIn(text: string, by: string): string {
  return text.replace(/^(?=.)/gm, by);
}

/** What becomes of the YAML of a note in a season that is sound otherwise. */
function readNote(yaml: string): ReturnType<typeof readSeason> {
  return readSeason(
    `season: 2026\nevents:\n  - on: 2026-08-30\n    tree: G3\n    kind: water\n    note: ${yaml}`,
  );
}

/** The note of the first event of a season, and what is told of its file. */
function readSeason(text: string): {
  readonly note: string | undefined;
  readonly found: readonly LocatedDiagnostic[];
} {
  const files: Files = { ...SMALL_EXAMPLE, 'seasons/2026.yaml': text };
  const raw = Object.entries(files).map(([path, content]) => {
    const bytes = new TextEncoder().encode(content);
    return { path, bytes, size: bytes.length };
  });
  const { ledger, diagnostics } = readLedger(raw);
  const found = diagnostics.filter(({ at }) => at.file.path === 'seasons/2026.yaml');
  return { note: ledger?.seasons.find(({ year }) => year === 2026)?.events[0]?.note, found };
}
