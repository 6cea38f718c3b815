import type { LocatedDiagnostic } from '../../diagnostics/diagnostic.ts';
import type { NewEntry } from '../../entry/new-entry.ts';
import type { IsoDate } from '../../model/dates.ts';
import type { SourceFile } from '../../source/source-file.ts';
import { EXIT, Finished } from '../exit.ts';
import type { Desk } from './desk.ts';
import { type Plan, planEntries } from './plan.ts';
import {
  type LinesRead,
  linesAgain,
  type ReadEntry,
  readLines,
  type TypedLine,
} from './read-lines.ts';
import { handBack, tellDiagnostics, tellDiff, tellFailure, tellWritten } from './tell.ts';
import { writePlan } from './write-plan.ts';

export interface EnterOptions {
  readonly color: boolean;
  readonly dryRun: boolean;
  readonly keepGood: boolean;
}

/**
 * Writes a text of shorthand from a file or a pipe. All lines are checked first; with anything wrong
 * nothing is written, unless the good ones are to be kept and the others handed back.
 */
export async function enterLines(
  desk: Desk,
  file: SourceFile,
  date: IsoDate,
  options: EnterOptions,
): Promise<void> {
  const { host } = desk;
  const read = readLines(file, desk.ledger, desk.today, date);
  const sorted = soundAndFaulty(desk, read);
  const { plan, faulty } = sorted;
  const noColor = !options.color;
  tellDiagnostics(host, noColor, sorted.said);
  const status = sorted.isFaulty ? EXIT.ledgerErrors : EXIT.done;
  if (sorted.isFaulty && (!options.keepGood || sorted.isHopeless)) {
    host.stderr.write('Nothing was written.\n');
    throw new Finished(status);
  }
  if (options.dryRun) tellDiff(host, plan.files);
  else {
    const { written, failure } = await writePlan(desk, plan);
    tellWritten(desk, written);
    if (failure !== undefined) {
      handBackLines(desk, faulty);
      throw new Finished(tellFailure(host, noColor, failure));
    }
    const count = written.length === 1 ? '1 entry' : `${written.length} entries`;
    host.stdout.write(written.length === 0 ? 'No entries.\n' : `${count} written.\n`);
  }
  handBackLines(desk, faulty);
  if (status !== EXIT.done) throw new Finished(status);
}

function handBackLines({ host }: Desk, lines: readonly TypedLine[]): void {
  if (lines.length === 0) return;
  handBack(host, 'These lines were not written:', linesAgain(lines).join('\n'));
}

interface Sorted {
  /** With the sound entries alone. */
  readonly plan: Plan;
  readonly faulty: readonly TypedLine[];
  readonly said: readonly LocatedDiagnostic[];
  readonly isFaulty: boolean;
  /** Whether something is wrong that no line is to blame for. */
  readonly isHopeless: boolean;
}

/** Tells sound entries from faulty ones; an entry that the checks refuse may take others with it. */
function soundAndFaulty(desk: Desk, { entries, faulty, problems }: LinesRead): Sorted {
  const linesOf = new Map(entries.map(({ entry, lines }) => [entry, lines]));
  const said = [...problems];
  const bad = new Set<NewEntry>();
  let isHopeless = false;
  for (;;) {
    const sound = entries.filter(({ entry }) => !bad.has(entry));
    const plan = planEntries(
      desk,
      sound.map(({ entry }) => entry),
    );
    const before = bad.size;
    for (const { entry, diagnostics } of plan.refused) {
      bad.add(entry);
      said.push(...diagnostics.map((one) => atLine(one, linesOf.get(entry))));
    }
    for (const { diagnostic, entries: about } of plan.found) {
      if (diagnostic.severity !== 'error') continue;
      if (about.length === 0) isHopeless = true;
      const lines = about.flatMap((entry) => linesOf.get(entry) ?? []);
      said.push(atLine(diagnostic, lines));
      for (const entry of about) bad.add(entry);
    }
    if (bad.size > before) continue;
    for (const { diagnostic, entries: about } of plan.found) {
      if (diagnostic.severity === 'error') continue;
      said.push(atLine(diagnostic, about[0] && linesOf.get(about[0])));
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
