import { entryInWords } from '../../writing/shorthand/entry-in-words.ts';
import { dateInWords } from '../../writing/shorthand/typed-date.ts';
import { findings } from './check-files.ts';
import { entriesOf, replay } from './finish.ts';
import { planEntries } from './plan.ts';
import { linesAgain } from './read-lines.ts';
import { takeLine } from './take-line.ts';
import {
  type Departure,
  keepDraft,
  ledgerOf,
  promptOf,
  say,
  type Talk,
  type WaitingLine,
} from './talk.ts';

// What waits may be taken back or typed anew before it is written.

export async function takeBackLast(talk: Talk): Promise<void> {
  const last = talk.waiting.at(-1);
  if (last === undefined) {
    const written = talk.options.atOnce ? ' What is written is changed in the file.' : '';
    say(talk, `There is nothing to take back.${written}`, '  ');
    return;
  }
  talk.waiting = talk.waiting.slice(0, -1);
  talk.progress = { ...last.before, doubt: 'none' };
  const { entries, date } = talk.progress.session;
  talk.diagnostics =
    entries.length === 0 ? findings(talk.desk.read) : planEntries(talk.desk, entries).diagnostics;
  say(talk, `Taken back: ${last.text === '' ? `on ${last.date}` : last.text}`, '  ');
  if (date !== last.date) say(talk, `What follows is of ${dateInWords(date)}.`, '  ');
  await keepDraft(talk);
}

/** Takes back what `list` shows under a number, with every line that it was typed in. */
export async function takeBackNumber(talk: Talk, word: string): Promise<void> {
  const at = numbered(talk, word, 'take back');
  if (at === undefined) return;
  const { waiting, progress } = talk;
  const one = progress.session.entries[at];
  const kept = waiting.filter((_, index) => !entriesOf(talk, index).includes(at));
  const told = one === undefined ? '' : entryInWords(ledgerOf(talk), one);
  rewind(talk, waiting);
  const [needs] = replay(talk, linesAgain(kept));
  if (needs !== undefined) {
    restore(talk, { waiting, progress });
    say(talk, `${word} stays, since a line after it needs it: ${needs.text}`, '  ');
    return;
  }
  const { entries, date } = talk.progress.session;
  if (entries.length === 0) talk.diagnostics = findings(talk.desk.read);
  say(talk, `Taken back: ${word}, ${told}`, '  ');
  if (date !== progress.session.date) say(talk, `What follows is of ${dateInWords(date)}.`, '  ');
  await keepDraft(talk);
}

/** Opens the line of what `list` shows under a number, to be typed anew in its place. */
export async function fixNumber(talk: Talk, word: string): Promise<Departure | undefined> {
  const at = numbered(talk, word, 'open');
  if (at === undefined) return undefined;
  const { waiting, progress } = talk;
  const index = waiting.findIndex((_, line) => entriesOf({ waiting, progress }, line).includes(at));
  const old = waiting[index];
  if (old === undefined) return undefined;
  const before = waiting.slice(0, index);
  const after = waiting.slice(index + 1);
  rewind(talk, waiting);
  replay(talk, [
    ...linesAgain(before),
    ...(before.at(-1)?.date === old.date ? [] : [`on ${old.date}`]),
  ]);
  const typed = await talk.keyboard.next(promptOf(talk), old.text);
  const text = typed.kind === 'line' ? typed.text.trim() : '';
  const length = talk.waiting.length;
  let departure: Departure | undefined;
  if (typed.kind === 'interrupt' || typed.kind === 'gone') departure = typed.kind;
  else if (text !== '' && text !== old.text) departure = await takeLine(talk, text);
  if (talk.waiting.length === length || departure !== undefined) {
    restore(talk, { waiting, progress });
    say(talk, `${word} stays as it was.`, '  ');
    return departure;
  }
  const [lost] = replay(talk, linesAgain(after));
  if (lost !== undefined) {
    restore(talk, { waiting, progress });
    say(talk, `${word} stays as it was, since a line after it needs it: ${lost.text}`, '  ');
    return undefined;
  }
  const { session } = talk.progress;
  talk.progress = { session: { ...session, date: progress.session.date }, doubt: 'none' };
  await keepDraft(talk);
  return undefined;
}

/** The place, from 0, of what `list` shows under a number; says so where there is none. */
function numbered(talk: Talk, word: string, what: string): number | undefined {
  const { length } = talk.progress.session.entries;
  const number = /^\d+$/.test(word) ? Number(word) : 0;
  if (number >= 1 && number <= length) return number - 1;
  const known = length === 0 ? 'nothing waits' : `list numbers what waits, 1 to ${length}`;
  say(talk, `There is no ${word} to ${what}; ${known}.`, '  ');
  return undefined;
}

/** To where the first of the waiting lines was typed. */
function rewind(talk: Talk, waiting: readonly WaitingLine[]): void {
  talk.waiting = [];
  talk.progress = { ...(waiting[0]?.before ?? talk.progress), doubt: 'none' };
}

function restore(talk: Talk, { waiting, progress }: Pick<Talk, 'waiting' | 'progress'>): void {
  talk.waiting = waiting;
  talk.progress = progress;
  const { entries } = progress.session;
  talk.diagnostics =
    entries.length === 0 ? findings(talk.desk.read) : planEntries(talk.desk, entries).diagnostics;
}
