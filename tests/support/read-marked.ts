import { expect } from 'vitest';
import type { LocatedDiagnostic } from '../../src/diagnostics/diagnostic.ts';
import type { Ledger } from '../../src/model/ledger.ts';
import { type LedgerRead, readLedger } from '../../src/reading/read-ledger.ts';
import { positionAt } from '../../src/source/position.ts';

/** Files of a ledger by path: text, or bytes where it is about encodings. */
export type RawFiles = Readonly<Record<string, string | Uint8Array>>;

export function readFiles(files: RawFiles): LedgerRead {
  return readLedger(
    Object.entries(files).map(([path, content]) => {
      const bytes = typeof content === 'string' ? new TextEncoder().encode(content) : content;
      return { path, bytes, size: bytes.length };
    }),
  );
}

/** The ledger of files that nothing is wrong with. */
export function soundLedger(files: RawFiles): Ledger {
  const { ledger, diagnostics } = readFiles(files);
  expect(told(diagnostics)).toEqual([]);
  if (ledger === undefined) throw new Error('no ledger was read');
  return ledger;
}

/** Each diagnostic as `path:line:column rule`, in the order given. */
export function told(diagnostics: readonly LocatedDiagnostic[]): readonly string[] {
  return diagnostics.map(({ at, rule }) => {
    const { line, column } = positionAt(at.file, at.start);
    return `${at.file.path}:${line}:${column} ${rule}`;
  });
}

/**
 * Holds what reading has to say against marks in the files: a line that ends in
 * `# expect: rule@column` (several with commas) must bring exactly those, every other line nothing.
 */
export function expectRead(files: Readonly<Record<string, string>>): LedgerRead {
  const read = readFiles(files);
  for (const { message, advice, at } of read.diagnostics) {
    expect(message, 'one line without a final stop').toMatch(/^\S.*[^.\s]$/);
    expect(advice).not.toMatch(/\.$|\n/);
    expect(`${message} ${advice}`).not.toMatch(/undefined|NaN|\[object|Invalid input|zod/);
    expect(at.end).toBeGreaterThanOrEqual(at.start);
    expect(at.end).toBeLessThanOrEqual(at.file.text.length);
  }
  expect([...told(read.diagnostics)].sort()).toEqual(Object.entries(files).flatMap(marks).sort());
  return read;
}

function marks([path, text]: [string, string]): readonly string[] {
  return text.split(/\r?\n/).flatMap((line, index) => {
    const rules = /# expect: (.*)$/.exec(line)?.[1]?.split(', ') ?? [];
    return rules.map((mark) => {
      const [rule, column = '?'] = mark.split('@');
      return `${path}:${index + 1}:${column} ${rule}`;
    });
  });
}
