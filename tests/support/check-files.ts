import { expect } from 'vitest';
import { checkLedger, rules } from '../../src/checks/index.ts';
import type { Surroundings } from '../../src/checks/rule.ts';
import type { LocatedDiagnostic } from '../../src/diagnostics/diagnostic.ts';
import { sortedDiagnostics } from '../../src/diagnostics/order.ts';
import { readLedger } from '../../src/reading/read-ledger.ts';
import { located } from '../../src/reading/yaml-locate.ts';
import { positionAt } from '../../src/source/position.ts';

/** Texts of a ledger's files by their path inside it. */
export type Files = Readonly<Record<string, string>>;

/** Everything the reader and the rules have to say about some files, in order. */
export function checkFiles(files: Files, around?: Surroundings): readonly LocatedDiagnostic[] {
  const raw = Object.entries(files).map(([path, text]) => {
    const bytes = new TextEncoder().encode(text);
    return { path, bytes, size: bytes.length };
  });
  const { ledger, diagnostics } = readLedger(raw);
  const found = ledger === undefined ? [] : located(checkLedger(ledger, rules, around));
  return sortedDiagnostics([...diagnostics, ...found]);
}

/**
 * Holds what is found against the files' own marks: a line that ends in `# expect: rule-name`
 * (several with commas) must bring exactly those, and every other line nothing.
 */
export function expectMarked(files: Files, around?: Surroundings): readonly LocatedDiagnostic[] {
  const found = checkFiles(files, around);
  for (const { at, message, advice } of found) {
    for (const line of [message, advice]) {
      expect(line, 'one line without a final stop').toMatch(/^\S.*[^.\s]$/);
      expect(line).not.toMatch(/undefined|NaN|\[object/);
    }
    expect(at.start, 'a place lies inside its file').toBeGreaterThanOrEqual(0);
    expect(at.end).toBeGreaterThan(at.start);
    expect(at.end).toBeLessThanOrEqual(at.file.text.length);
  }
  expect(found.map(asMark).sort()).toEqual(Object.entries(files).flatMap(marks).sort());
  return found;
}

function asMark({ at, rule }: LocatedDiagnostic): string {
  return `${at.file.path}:${positionAt(at.file, at.start).line} ${rule}`;
}

function marks([path, text]: [string, string]): readonly string[] {
  return text.split('\n').flatMap((line, index) => {
    const rules = /# expect: (.*)$/.exec(line)?.[1]?.split(', ') ?? [];
    return rules.map((rule) => `${path}:${index + 1} ${rule}`);
  });
}

/** The text that a diagnostic points at. */
export function pointedAt({ at }: LocatedDiagnostic): string {
  return at.file.text.slice(at.start, at.end);
}
