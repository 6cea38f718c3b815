import type { LocatedDiagnostic } from '../../diagnostics/diagnostic.ts';
import { lineWidth } from '../../render/look.ts';
import { displayWidth } from '../../source/display-width.ts';
import { frameOf } from '../../source/frame.ts';
import { positionAt } from '../../source/position.ts';
import type { Span } from '../../source/source-file.ts';
import { visible } from '../../source/visible.ts';
import type { Entered } from '../../writing/listing.ts';
import type { Answer, Question } from '../../writing/shorthand/line-reading.ts';
import { answered, type LineRead } from '../../writing/shorthand/read-line.ts';
import { newDiagnostics } from './check-files.ts';
import { type Progress, readNext, splitDate } from './follow-lines.ts';
import { planEntries } from './plan.ts';
import { entriesThere } from './repeats.ts';
import {
  type Departure,
  keepDraft,
  ledgerOf,
  type SaidOfLine,
  say,
  sayDiagnostics,
  type Talk,
} from './talk.ts';

/**
 * Takes a typed line: asks what it may mean, says what is wrong or what was understood and what is
 * doubtful about it, and lets it wait to be written. A line with an error is not taken.
 */
export async function takeLine(talk: Talk, typed: string): Promise<Departure | undefined> {
  let line = typed;
  for (;;) {
    const ledger = ledgerOf(talk);
    const { progress, read } = readNext(line, talk.progress, ledger);
    const [question] = read.questions;
    if (read.slips.length === 0 && question !== undefined) {
      const { date, rest } = splitDate(line, talk.progress.session.today, ledger);
      // Whoever leaves in place of an answer finds the line again.
      talk.asked = { date: date ?? talk.progress.session.date, text: rest };
      await keepDraft(talk);
      const answer = await ask(talk, question);
      if (answer === 'interrupt' || answer === 'gone') return answer;
      talk.asked = undefined;
      if (answer !== undefined) {
        line = answered(line, question, answer);
        if (answer.before !== undefined) await takeLine(talk, answer.before);
        continue;
      }
      await keepDraft(talk);
      say(talk, `Left out: ${line.trim()}`, '  ');
      talk.progress = progress;
    } else if (read.slips.length > 0) {
      saySlips(talk, line, read);
      talk.progress = progress;
    } else await accept(talk, line, read, progress);
    return undefined;
  }
}

/** The line once, with every place marked, and below it what is wrong at each. */
function saySlips(talk: Talk, line: string, { slips }: LineRead): void {
  const { host } = talk.desk;
  const shown = visible(line.trimEnd());
  const width = lineWidth(talk.look) - INDENT.length;
  const marksOf = ({ start, end }: (typeof slips)[number]): Span => ({
    file: { path: '', text: line, bom: false },
    start,
    end,
  });
  if (displayWidth(shown) < width) {
    let marks = '';
    for (const span of [...slips].sort((a, b) => a.start - b.start).map(marksOf)) {
      const own = frameOf(span, width).at(-1)?.text ?? '';
      marks += own.slice(marks.length);
    }
    host.stdout.write(`${INDENT}${shown}\n${INDENT}${talk.style.error(marks)}\n`);
  } else {
    for (const one of slips) {
      const [cut, marks] = frameOf(marksOf(one), width);
      host.stdout.write(`${INDENT}${cut?.text ?? ''}\n${INDENT}${marks?.text ?? ''}\n`);
    }
  }
  sayDiagnostics(
    talk,
    slips.map(({ message, advice }) => ({ severity: 'error', message, advice })),
  );
}

const INDENT = '    ';

/** The answer to a question. What is none is taken for the next line, as when many are pasted. */
async function ask(
  talk: Talk,
  { message, answers }: Question,
): Promise<Answer | Departure | undefined> {
  say(talk, message, '  ');
  for (const [index, { label }] of answers.entries()) say(talk, label, `    ${index + 1}  `);
  const typed = await talk.keyboard.next('  number, or Enter to leave the line out> ');
  if (typed.kind === 'interrupt' || typed.kind === 'gone') return typed.kind;
  if (typed.kind === 'end') return undefined;
  const word = typed.text.trim().toLowerCase();
  if (word === '' || word === 'back') return undefined;
  const found = answers.find(
    ({ label, text }, index) =>
      String(index + 1) === word || [label, text].some((one) => one.trim().toLowerCase() === word),
  );
  if (found === undefined) talk.ahead = typed.text;
  return found;
}

/** What the lines of an evening settle as they go on; what is left of it is told before the writing. */
const SETTLED_LATER = new Set(['cultivar-without-trees', 'tree-silent']);

/** Whoever types - for a mark knows that it is missing. */
function isSaid(rule: string, line: string): boolean {
  return rule === 'sheet-half-filled' && /\s[-\u2013](?:\s|,|$)/.test(line);
}

/** What is wrong with a file and not with the line before everyone's eyes. */
function withPlace(one: LocatedDiagnostic): LocatedDiagnostic {
  const { line } = positionAt(one.at.file, one.at.start);
  return { ...one, message: `${one.at.file.path}:${line}: ${one.message}` };
}

/** Counts, picks and drops that are there already have a check of their own. */
function doubtOfRepeats({ desk }: Talk, { entries }: LineRead): readonly SaidOfLine[] {
  const unchecked = entries.filter(({ section }) => !CHECKED_REPEATS.has(section));
  if (entriesThere(desk, unchecked).size === 0) return [];
  const message = 'the ledger has this already, to the letter';
  return [{ severity: 'warning', message, advice: 'back takes it back, if it is the same' }];
}

const CHECKED_REPEATS: ReadonlySet<Entered['section']> = new Set(['counts', 'picks', 'drops']);

async function accept(talk: Talk, line: string, read: LineRead, progress: Progress): Promise<void> {
  if (read.understood.length === 0) return;
  for (const one of read.understood) say(talk, one, '  ');
  const { session } = progress;
  if (read.entries.length > 0) {
    const plan = planEntries(talk.desk, session.entries);
    const found = [
      ...plan.refused.flatMap(({ diagnostics, isOfFile }) =>
        isOfFile ? diagnostics.map(withPlace) : diagnostics,
      ),
      ...newDiagnostics(talk.diagnostics, plan.diagnostics),
    ];
    sayDiagnostics(talk, [
      ...found.filter(({ rule }) => !SETTLED_LATER.has(rule) && !isSaid(rule, line)),
      ...doubtOfRepeats(talk, read),
    ]);
    if (found.some(({ severity }) => severity === 'error')) {
      say(talk, 'This line is not taken.', '  ');
      // More weights must not go to the pick before it.
      talk.progress = { session: { ...talk.progress.session, date: session.date }, doubt: 'pick' };
      return;
    }
    talk.diagnostics = plan.diagnostics;
  }
  const { rest } = splitDate(line, session.today, ledgerOf(talk));
  const text = read.entries.length > 0 ? rest : '';
  talk.waiting = [...talk.waiting, { date: session.date, text, before: talk.progress }];
  talk.progress = progress;
  if (text !== '') await keepDraft(talk);
}
