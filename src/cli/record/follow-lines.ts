import type { IsoDate } from '../../model/dates.ts';
import type { Ledger } from '../../model/ledger.ts';
import {
  beginSession,
  LIST_STATEMENTS,
  type LineRead,
  readLine,
  type Session,
} from '../../writing/shorthand/read-line.ts';
import { type Token, tokensOf } from '../../writing/shorthand/tokens.ts';
import { looksLikeDate, readDate } from '../../writing/shorthand/typed-date.ts';
import { looksNumeric } from '../../writing/typed-number.ts';

/** Where the reading of several lines has got to. */
export interface Progress {
  readonly session: Session;
  /**
   * What a line that was not understood leaves in doubt for those after it: which pick more weights
   * belong to, or even the date.
   */
  readonly doubt: 'none' | 'pick' | 'date';
}

export function beginLines(today: IsoDate, date: IsoDate): Progress {
  return { session: beginSession(today, date), doubt: 'none' };
}

/**
 * Reads the next line. It never leans on a line that was not understood: more weights after a
 * faulty pick are not given to the pick before it, nor entries after a faulty date to the old date.
 */
export function readNext(
  line: string,
  progress: Progress,
  ledger: Ledger,
): { readonly progress: Progress; readonly read: LineRead } {
  const { session, doubt } = progress;
  const tokens = tokensOf(line);
  const [first] = tokens;
  if (first === undefined) return { progress, read: readLine('', session, ledger) };
  const isListing = LIST_STATEMENTS.includes(first.text.toLowerCase());
  const read = readLine(line, session, ledger);
  // Nothing but a date is understood without adding an entry.
  const isDate = isDateWord(first) || (isUnderstood(read) && read.entries.length === 0);
  const missing = isListing ? undefined : whatIsMissing(first, isDate, doubt);
  if (missing !== undefined) return { progress, read: refused(session, first, missing) };
  if (isUnderstood(read)) {
    // What is listed has no date and no weights, and settles nothing of them.
    return { progress: { session: read.session, doubt: isListing ? doubt : 'none' }, read };
  }
  if (isListing) return { progress, read };
  const { date } = splitDate(line, session.today, ledger);
  if (date !== undefined)
    return { progress: { session: { ...session, date }, doubt: 'pick' }, read };
  const lost =
    doubt === 'date' || isDateWord(first) || looksLikeDate(tokens.map(({ text }) => text));
  return { progress: { session, doubt: lost ? 'date' : 'pick' }, read };
}

/** A line without the date that it may begin with, and that date. */
export function splitDate(
  line: string,
  today: IsoDate,
  ledger: Ledger,
): { readonly date: IsoDate | undefined; readonly rest: string } {
  const [first, ...words] = tokensOf(line);
  if (first === undefined || !isDateWord(first)) return { date: undefined, rest: line.trim() };
  const found = readDate(
    words.slice(0, 3).map(({ text }) => text),
    today,
    ledger.trial.dates,
  );
  if (found.kind !== 'date') return { date: undefined, rest: line.trim() };
  const last = words[found.used - 1];
  return { date: found.date, rest: line.slice(last?.end ?? line.length).trim() };
}

function isUnderstood({ slips, questions }: LineRead): boolean {
  return slips.length === 0 && questions.length === 0;
}

function isDateWord({ text }: Token): boolean {
  return text.toLowerCase() === 'on';
}

interface Missing {
  readonly message: string;
  readonly advice: string;
}

function whatIsMissing(
  first: Token,
  isDate: boolean,
  doubt: Progress['doubt'],
): Missing | undefined {
  if (isDate) return undefined;
  if (doubt === 'date') {
    return {
      message: 'of which day? The line before that was to give the date was not understood',
      advice: 'begin with on and the date, as in on 2026-07-24',
    };
  }
  if (doubt !== 'none' && looksNumeric(first.text)) {
    return {
      message: 'weights of which pick? The line before was not understood',
      advice: 'mend that line first, or begin with pick and the tree',
    };
  }
  return undefined;
}

function refused(session: Session, { start, end }: Token, missing: Missing): LineRead {
  const slips = [{ start, end, ...missing }];
  return { session, entries: [], replaced: undefined, understood: [], questions: [], slips };
}
