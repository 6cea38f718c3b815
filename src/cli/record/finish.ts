import type { Entered } from '../../writing/listing.ts';
import { entryInWords } from '../../writing/shorthand/entry-in-words.ts';
import { findings } from './check-files.ts';
import { openDesk } from './desk.ts';
import { beginLines, readNext } from './follow-lines.ts';
import { lineRuns } from './line-runs.ts';
import { type Plan, planEntries } from './plan.ts';
import { linesAgain, type TypedText } from './read-lines.ts';
import {
  type Departure,
  keepDraft,
  ledgerOf,
  say,
  sayDiagnostics,
  type Talk,
  type WaitingLine,
} from './talk.ts';
import { tellDiff, tellFailure } from './tell.ts';
import { type WrittenEntry, writePlan } from './write-plan.ts';

/** What waits, numbered. */
export function sayWaiting(talk: Talk): void {
  const { entries } = talk.progress.session;
  if (entries.length === 0) say(talk, 'Nothing waits to be written.', '  ');
  const digits = String(entries.length).length;
  for (const [index, one] of entries.entries()) {
    say(talk, entryInWords(ledgerOf(talk), one), `  ${String(index + 1).padStart(digits)}  `);
  }
}

/**
 * A last look at what waits, and then the writing. `stay` says that the session goes on: the person
 * said no, or something could not be written.
 */
export async function finish(talk: Talk): Promise<Departure | 'written' | 'stay'> {
  const { entries } = talk.progress.session;
  if (entries.length === 0) return 'written';
  sayWaiting(talk);
  const plan = planEntries(talk.desk, entries);
  sayDiagnostics(
    talk,
    plan.found.map(({ diagnostic }) => diagnostic),
  );
  if (talk.options.dryRun) {
    tellDiff(talk.desk.host, plan.files);
    say(talk, 'Nothing was written (--dry-run).');
    return 'written';
  }
  const what = entries.length === 1 ? 'this entry' : `these ${entries.length} entries`;
  const typed = await talk.keyboard.next(`Write ${what}? Enter for yes, no to go on> `);
  if (typed.kind === 'interrupt' || typed.kind === 'gone') return typed.kind;
  // A second Ctrl-D means it.
  const answer = typed.kind === 'line' ? typed.text.trim().toLowerCase() : '';
  if (!['', 'y', 'yes'].includes(answer)) {
    say(
      talk,
      'Nothing is written yet. back takes the last line back, back 2 the second of the list; fix 2 opens it.',
    );
    // What is no answer is the next line.
    if (typed.kind === 'line' && !['n', 'no'].includes(answer)) talk.ahead = typed.text;
    return 'stay';
  }
  return (await write(talk, plan)) ? 'written' : 'stay';
}

/** Writes what waits; says whether all of it is written. */
export async function write(talk: Talk, plan: Plan): Promise<boolean> {
  const { host } = talk.desk;
  const { written, failure } = await writePlan(talk.desk, plan);
  sayPlaces(talk, written);
  const kept = linesFor(talk, failure?.entries ?? []);
  if (failure !== undefined) {
    tellFailure(host, !talk.options.color, failure);
    say(talk, 'Mend that and type done again, or leave with Ctrl-C; the lines are kept.');
  }
  await waitFor(talk, kept);
  await keepDraft(talk);
  return failure === undefined;
}

/** The waiting lines that made or added to some entries. */
function linesFor(talk: Talk, entries: readonly Entered[]): readonly WaitingLine[] {
  const wanted = new Set(entries);
  const all = talk.progress.session.entries;
  return talk.waiting.filter((_, index) =>
    entriesOf(talk, index).some((at) => wanted.has(all[at] as Entered)),
  );
}

/** Which entries, counted from 0, a waiting line made or added to. */
export function entriesOf(
  { waiting, progress }: Pick<Talk, 'waiting' | 'progress'>,
  index: number,
): readonly number[] {
  const line = waiting[index];
  if (line === undefined || line.text === '') return [];
  const from = line.before.session.entries.length;
  const to = (waiting[index + 1]?.before ?? progress).session.entries.length;
  // More weights make no entry of their own.
  return to === from ? [from - 1] : Array.from({ length: to - from }, (_, more) => from + more);
}

/** From now on only these lines wait; the ledger is read anew. */
async function waitFor(talk: Talk, kept: readonly WaitingLine[]): Promise<void> {
  const { today, date } = talk.progress.session;
  talk.desk = await openDesk(talk.desk.host, talk.options);
  talk.progress = beginLines(today, date);
  talk.waiting = [];
  talk.diagnostics = findings(talk.desk.read);
  replay(talk, linesAgain(kept));
}

/** Puts lines that were understood before back into waiting; gives back those that are not now. */
export function replay(talk: Talk, lines: readonly string[]): readonly TypedText[] {
  const lost: TypedText[] = [];
  const { date } = talk.progress.session;
  for (const line of lines) {
    const { progress, read } = readNext(line, talk.progress, ledgerOf(talk));
    if (read.slips.length > 0 || read.questions.length > 0)
      lost.push({ date: progress.session.date, text: line });
    else {
      const text = read.entries.length > 0 ? line : '';
      const before = talk.progress;
      talk.waiting = [...talk.waiting, { date: progress.session.date, text, before }];
    }
    talk.progress = progress;
  }
  const { session } = talk.progress;
  talk.progress = {
    session: { ...session, date: lines.length > 0 ? session.date : date },
    doubt: 'none',
  };
  if (session.entries.length > 0) {
    talk.diagnostics = planEntries(talk.desk, session.entries).diagnostics;
  }
  return lost;
}

/** `4 entries written: seasons/2026.yaml:61, 64-66` */
function sayPlaces(talk: Talk, written: readonly WrittenEntry[]): void {
  if (written.length === 0) return;
  const lines = new Map<string, Set<number>>();
  for (const { path, line } of written) lines.set(path, (lines.get(path) ?? new Set()).add(line));
  const places = [...lines].map(([path, own]) => `${path}:${lineRuns(own)}`);
  const count = written.length === 1 ? '1 entry' : `${written.length} entries`;
  say(talk, `${count} written: ${places.join('; ')}`);
}
