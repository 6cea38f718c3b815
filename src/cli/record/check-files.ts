import { checkLedger, internalWords, rules } from '../../checks/index.ts';
import type { LocatedDiagnostic } from '../../diagnostics/diagnostic.ts';
import { sortedDiagnostics } from '../../diagnostics/order.ts';
import type { LedgerRead } from '../../reading/read-ledger.ts';
import { located } from '../../reading/yaml-locate.ts';
import { lineText, positionAt } from '../../source/position.ts';

/** What reading and the rules find in a ledger; the rules find nothing where `ledger.yaml` cannot be read. */
export function findings(
  { ledger, diagnostics }: LedgerRead,
  toRun = rules,
): readonly LocatedDiagnostic[] {
  const found = ledger === undefined ? [] : located(checkLedger(ledger, toRun));
  return sortedDiagnostics([...diagnostics, ...found]);
}

/** What is found in a ledger after a change and was not found before. */
export function newFindings(
  before: LedgerRead,
  after: readonly LocatedDiagnostic[],
): readonly LocatedDiagnostic[] {
  // Reading the ledger as it was may take long.
  if (after.length === 0) return [];
  // Only a rule that finds something now can have found the same before.
  const names = new Set(after.map(({ rule }) => rule));
  const toRun = names.has(internalWords.rule)
    ? rules
    : rules.filter(({ words }) => words.some(({ rule }) => names.has(rule)));
  return newDiagnostics(findings(before, toRun), after);
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
  return sortedDiagnostics(fresh);
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
