import type { LocatedDiagnostic } from '../../diagnostics/diagnostic.ts';
import { inOrder } from '../../diagnostics/order.ts';
import type { RawFile } from '../../ledger/raw-file.ts';
import { readLedger } from '../../ledger/read-ledger.ts';
import { located } from '../../ledger/yaml-locate.ts';
import type { Ledger } from '../../model/ledger.ts';
import { checkLedger } from '../../rules/index.ts';
import { lineText, positionAt } from '../../source/position.ts';

/** A ledger as its files say it, with everything that reading and the rules find. */
export interface CheckedFiles {
  readonly ledger: Ledger | undefined;
  readonly diagnostics: readonly LocatedDiagnostic[];
}

export function checkFiles(raw: readonly RawFile[]): CheckedFiles {
  const { ledger, diagnostics } = readLedger(raw);
  const found = ledger === undefined ? [] : located(checkLedger(ledger));
  return { ledger, diagnostics: inOrder([...diagnostics, ...found]) };
}

/**
 * What is said of the files now and was not said before. Lines move when entries are added, and sums
 * grow, so a diagnostic is known by its file, rule and words without their numbers; of several
 * alike, those on lines that were not there before are the new ones.
 */
export function newDiagnostics(
  before: readonly LocatedDiagnostic[],
  after: readonly LocatedDiagnostic[],
): readonly LocatedDiagnostic[] {
  const known = grouped(before);
  const fresh = [...grouped(after)].flatMap(([key, group]) => {
    const old = known.get(key) ?? [];
    const lines = new Set(old.map(lineOf));
    const firstNew = [...group].sort(
      (a, b) => Number(lines.has(lineOf(a))) - Number(lines.has(lineOf(b))),
    );
    return firstNew.slice(0, Math.max(0, group.length - old.length));
  });
  return inOrder(fresh);
}

function grouped(
  diagnostics: readonly LocatedDiagnostic[],
): ReadonlyMap<string, readonly LocatedDiagnostic[]> {
  const groups = new Map<string, LocatedDiagnostic[]>();
  for (const one of diagnostics) {
    const words = one.message.replaceAll(/\b\d+(?:\.\d+)?\b/g, '');
    const key = `${one.at.file.path}\n${one.rule}\n${words}`;
    groups.set(key, [...(groups.get(key) ?? []), one]);
  }
  return groups;
}

function lineOf({ at }: LocatedDiagnostic): string {
  return lineText(at.file, positionAt(at.file, at.start).line);
}
