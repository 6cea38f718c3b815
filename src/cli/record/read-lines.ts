import { diagnose, type LocatedDiagnostic } from '../../diagnostics/diagnostic.ts';
import { lineNotUnderstood, lineUnclear } from '../../diagnostics/words/shorthand.ts';
import type { IsoDate } from '../../model/dates.ts';
import type { Ledger } from '../../model/ledger.ts';
import { located } from '../../reading/yaml-locate.ts';
import { lineStarts, lineText } from '../../source/position.ts';
import type { SourceFile, Span } from '../../source/source-file.ts';
import type { Entered, Listing } from '../../writing/listing.ts';
import type { Question } from '../../writing/shorthand/line-reading.ts';
import type { LineRead } from '../../writing/shorthand/read-line.ts';
import { beginLines, readNext, splitDate } from './follow-lines.ts';

/** A whole text of shorthand, read. */
export interface LinesRead {
  readonly entries: readonly ReadEntry[];
  /** Lines that were not understood. */
  readonly faulty: readonly TypedLine[];
  readonly problems: readonly LocatedDiagnostic[];
}

export interface ReadEntry {
  readonly entry: Entered;
  /** The line that it comes from, and those that add weights to it. */
  readonly lines: readonly TypedLine[];
}

/** What was typed on a line. */
export interface TypedText {
  /** Its date, where that is known. */
  readonly date: IsoDate | undefined;
  /** Without the date. */
  readonly text: string;
}

export interface TypedLine extends TypedText {
  readonly at: Span;
}

/**
 * @param ledgerWith the ledger with what the lines before have listed
 * @param areThere whether files of the ledger say all of this already
 */
export function readLines(
  file: SourceFile,
  ledgerWith: (entered: readonly Entered[]) => Ledger,
  areThere: (listed: readonly Listing[]) => boolean,
  today: IsoDate,
  date: IsoDate,
): LinesRead {
  const entries: { entry: Entered; lines: readonly TypedLine[] }[] = [];
  const faulty: TypedLine[] = [];
  const problems: LocatedDiagnostic[] = [];
  let progress = beginLines(today, date);
  for (const [index, start] of lineStarts(file).entries()) {
    const text = lineText(file, index + 1);
    // As an evening at a terminal ends; here the end of the file says so too.
    if (text.trim() === 'done' && file.text.slice(start).trim() === 'done') break;
    const ledger = ledgerWith(progress.session.entries);
    const next = readNext(text, progress, ledger);
    progress = next.progress;
    const from = start + (text.length - text.trimStart().length);
    const line: TypedLine = {
      at: { file, start: from, end: start + text.trimEnd().length },
      date: progress.doubt === 'date' ? undefined : progress.session.date,
      text: splitDate(text, today, ledger).rest,
    };
    const { listed = [] } = next.read;
    if (listed.length > 0 && areThere(listed)) {
      entries.push(...listed.map((entry) => ({ entry, lines: [line] })));
      continue;
    }
    const wrong = problemsOf(next.read, file, start);
    if (wrong.length > 0) {
      problems.push(...wrong);
      faulty.push(line);
      continue;
    }
    const at = entries.findLastIndex(({ entry }) => entry === next.read.replaced);
    const [before] = at < 0 ? [] : entries.splice(at, 1);
    const lines = [...(before?.lines ?? []), line];
    entries.push(...next.read.entries.map((entry) => ({ entry, lines })));
  }
  return { entries, faulty, problems };
}

/** What is wrong with one line, marked in its file. */
function problemsOf(
  read: LineRead,
  file: SourceFile,
  lineStart: number,
): readonly LocatedDiagnostic[] {
  const span = (at: { readonly start: number; readonly end: number }): Span => ({
    file,
    start: lineStart + at.start,
    end: lineStart + at.end,
  });
  const slips = read.slips.map((one) => diagnose(lineNotUnderstood, span(one), one));
  const questions = read.questions.map((one) => {
    const advice = adviceOn(one);
    return diagnose(lineUnclear, span(one), { message: one.message, advice });
  });
  return located([...slips, ...questions]);
}

/** Lines that can be typed again, each date before the lines that it is of. */
export function linesAgain(lines: readonly TypedText[]): readonly string[] {
  let date: IsoDate | undefined;
  return lines.flatMap((line) => {
    const isNew = line.date !== undefined && line.date !== date;
    // Behind a line whose date is not known, that of the next is said again.
    date = line.date;
    return [...(isNew ? [`on ${line.date}`] : []), ...(line.text === '' ? [] : [line.text])];
  });
}

/** What to type where nobody can be asked. */
export function adviceOn({ answers }: Question): string {
  const words = answers.map(({ text }) => text.trim()).join(' or ');
  const lines = answers.flatMap(({ before }) => before ?? []);
  return lines.length === 0
    ? `type ${words}`
    : `type ${words}; or once a line ${lines.join(' or ')}`;
}
