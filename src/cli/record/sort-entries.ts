import type { LocatedDiagnostic } from '../../diagnostics/diagnostic.ts';
import type { Entered } from '../../writing/listing.ts';
import type { Desk } from './desk.ts';
import { type Plan, planEntries } from './plan.ts';
import type { LinesRead, ReadEntry, TypedLine } from './read-lines.ts';

/** Entries of a text, those that can be written apart from those that cannot. */
export interface SortedEntries {
  /** With the sound entries alone. */
  readonly plan: Plan;
  readonly faulty: readonly TypedLine[];
  readonly said: readonly LocatedDiagnostic[];
  readonly isFaulty: boolean;
  /** Whether something is wrong that no line is to blame for. */
  readonly isHopeless: boolean;
}

/** Tells sound entries from faulty ones; an entry that the checks refuse may take others with it. */
export function sortEntries(desk: Desk, { entries, faulty, problems }: LinesRead): SortedEntries {
  const linesOf = new Map(entries.map(({ entry, lines }) => [entry, lines]));
  const said = [...problems];
  const bad = new Set<Entered>();
  let isHopeless = false;
  for (;;) {
    const sound = entries.filter(({ entry }) => !bad.has(entry));
    const plan = planEntries(
      desk,
      sound.map(({ entry }) => entry),
    );
    const before = bad.size;
    for (const { entry, diagnostics, isOfFile } of plan.refused) {
      bad.add(entry);
      if (isOfFile) said.push(...diagnostics.filter((one) => !said.includes(one)));
      else said.push(...diagnostics.map((one) => atLine(one, linesOf.get(entry))));
    }
    for (const { diagnostic, entries: about } of plan.found) {
      if (diagnostic.severity !== 'error') continue;
      if (about.length === 0) isHopeless = true;
      if (about.length === 0) said.push(diagnostic);
      for (const entry of about) {
        said.push(atLine(diagnostic, linesOf.get(entry)));
        bad.add(entry);
      }
    }
    if (bad.size > before) continue;
    for (const { diagnostic, entries: about } of plan.found) {
      if (diagnostic.severity === 'error') continue;
      // Of several lines that made one sitting nobody knows which is meant.
      const [only, ...others] = about;
      said.push(atLine(diagnostic, others.length > 0 ? [] : only && linesOf.get(only)));
    }
    const lost = [...faulty, ...[...bad].flatMap((entry) => linesOf.get(entry) ?? [])];
    const isFaulty = lost.length > 0 || isHopeless;
    return { plan, faulty: inFileOrder(lost), said, isFaulty, isHopeless };
  }
}

function inFileOrder(lines: readonly TypedLine[]): readonly TypedLine[] {
  return [...lines].sort((a, b) => a.at.start - b.at.start);
}

/** A diagnostic of a place that is not in any file yet, at the line that is to blame. */
function atLine(
  diagnostic: LocatedDiagnostic,
  lines: ReadEntry['lines'] | undefined,
): LocatedDiagnostic {
  const [first] = lines ?? [];
  return first === undefined ? diagnostic : { ...diagnostic, at: first.at };
}
