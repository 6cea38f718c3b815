import type { LocatedDiagnostic } from '../../diagnostics/diagnostic.ts';
import type { IsoDate } from '../../model/dates.ts';
import type { Ledger } from '../../model/ledger.ts';
import { type Look, proseWidth } from '../../render/look.ts';
import type { Style } from '../../render/style.ts';
import { hang } from '../../render/text-lines.ts';
import { visible } from '../../source/visible.ts';
import { dateInWords } from '../../writing/shorthand/typed-date.ts';
import { StoreFault } from '../../writing/store.ts';
import { FileFault, type Keyboard } from '../host.ts';
import type { GlobalOptions } from '../open-ledger.ts';
import type { Desk } from './desk.ts';
import type { DraftKeeper } from './draft.ts';
import type { Progress } from './follow-lines.ts';
import { ledgerSoFar } from './ledger-so-far.ts';
import { linesAgain, type TypedText } from './read-lines.ts';

export interface TypeOptions extends GlobalOptions {
  readonly atOnce: boolean;
  readonly dryRun: boolean;
}

/** A line that was understood and waits to be written. */
export interface WaitingLine {
  readonly date: IsoDate;
  /** Without its date; empty where it said nothing else. */
  readonly text: string;
  /** Where the reading stood before it, for taking it back. */
  readonly before: Progress;
}

/** A session at the terminal, as far as it has got. */
export interface Talk {
  desk: Desk;
  readonly keyboard: Keyboard;
  readonly draft: DraftKeeper;
  readonly options: TypeOptions;
  readonly look: Look;
  readonly style: Style;
  progress: Progress;
  waiting: readonly WaitingLine[];
  /** The line that is asked about, which is in the draft as well. */
  asked: TypedText | undefined;
  /** A line typed where an answer was asked for. */
  ahead: string | undefined;
  /** What the checks find in the ledger with what waits. */
  diagnostics: readonly LocatedDiagnostic[];
  /** Whether it has been said that no draft can be kept. */
  isDraftless: boolean;
}

/** What the person did instead of typing a line. */
export type Departure = 'interrupt' | 'gone';

/** Text in lines that fit, behind a lead. */
export function say({ desk, look }: Talk, text: string, lead = ''): void {
  for (const line of hang(lead, visible(text), proseWidth(look))) {
    desk.host.stdout.write(`${line}\n`);
  }
}

/** What is said of a typed line; its place is before everyone's eyes. */
export type SaidOfLine = Pick<LocatedDiagnostic, 'severity' | 'message' | 'advice'>;

export function sayDiagnostics(talk: Talk, diagnostics: readonly SaidOfLine[]): void {
  const { desk, look, style } = talk;
  for (const { severity, message, advice } of diagnostics) {
    const [first = '', ...rest] = hang(`  ${severity}: `, visible(message), proseWidth(look));
    const toned = first.replace(severity, style[severity](severity));
    for (const line of [toned, ...rest]) desk.host.stdout.write(`${line}\n`);
    if (advice !== '') say(talk, advice, '  try: ');
  }
}

/** The ledger with what the session has listed so far. */
export function ledgerOf({ desk, progress }: Talk): Ledger {
  return ledgerSoFar(desk, progress.session.entries);
}

export function promptOf({ progress }: Talk): string {
  const [day = '', month = ''] = dateInWords(progress.session.date).split(' ');
  return `${day} ${month.slice(0, 3)}> `;
}

/** Brings the draft up to date with what waits; where it cannot be kept, says so once. */
export async function keepDraft(talk: Talk): Promise<void> {
  if (talk.options.dryRun) return;
  const asked = talk.asked === undefined ? [] : [talk.asked];
  const lines = linesAgain([...talk.waiting.filter(({ text }) => text !== ''), ...asked]);
  try {
    if (lines.length === 0) talk.draft.remove();
    else await talk.draft.keep(lines);
  } catch (thrown) {
    if (!(thrown instanceof StoreFault) && !(thrown instanceof FileFault)) throw thrown;
    if (!talk.isDraftless) {
      say(
        talk,
        `No draft can be kept: ${thrown.message}. What you type is safe only when written.`,
      );
    }
    talk.isDraftless = true;
  }
}
