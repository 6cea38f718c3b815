import { bearsAtFirst } from '../../model/bearing.ts';
import type { IsoDate } from '../../model/dates.ts';
import type { Ledger } from '../../model/ledger.ts';
import { styleFor } from '../../render/style.ts';
import { completions } from '../../writing/shorthand/completions.ts';
import { SHORTHAND } from '../../writing/shorthand/help.ts';
import { dateInWords } from '../../writing/shorthand/typed-date.ts';
import { EXIT, Finished } from '../exit.ts';
import type { Complete, Typed } from '../host.ts';
import { lookOf } from '../look.ts';
import { fixNumber, takeBackLast, takeBackNumber } from './change-waiting.ts';
import { findings } from './check-files.ts';
import type { Desk } from './desk.ts';
import { draftKeeper, draftText, findDrafts } from './draft.ts';
import { finish, replay, sayWaiting, write } from './finish.ts';
import { beginLines } from './follow-lines.ts';
import { planEntries } from './plan.ts';
import { linesAgain, type TypedText } from './read-lines.ts';
import { takeLine } from './take-line.ts';
import {
  type Departure,
  keepDraft,
  ledgerOf,
  promptOf,
  say,
  type Talk,
  type TypeOptions,
} from './talk.ts';

const WORDS = ['back', 'fix', 'list', 'help', 'done'];

/** A session at the terminal: lines are typed, understood, doubted and at the end written. */
export async function typeEntries(desk: Desk, date: IsoDate, options: TypeOptions): Promise<void> {
  const { host } = desk;
  const look = lookOf(host, host.stdout, !options.color);
  const talk: Talk = {
    desk,
    keyboard: host.stdin.keyboard((line) => complete(ledgerOf(talk), line)),
    draft: draftKeeper(host, desk.folder, desk.store),
    options,
    look,
    style: styleFor(look.colorLevel),
    progress: beginLines(desk.today, date),
    waiting: [],
    asked: undefined,
    ahead: undefined,
    diagnostics: findings(desk.read),
    isDraftless: false,
  };
  try {
    greet(talk);
    const departure = (await offerDrafts(talk)) ?? (await converse(talk));
    if (departure !== undefined) leave(talk, departure);
  } finally {
    talk.keyboard.close();
  }
}

function complete(ledger: Ledger, line: string): ReturnType<Complete> {
  const { start, words } = completions(line, line.length, ledger);
  const own = start === 0 ? WORDS.filter((word) => word.startsWith(line.toLowerCase())) : [];
  return { start, words: [...words, ...own] };
}

function greet(talk: Talk): void {
  const { desk, progress, options } = talk;
  say(talk, `${desk.ledger.trial.title}, ${dateInWords(progress.session.date)}`);
  const writes = options.atOnce ? 'Each line is written at once' : 'done writes them';
  say(
    talk,
    `Type what you saw, a line an entry, as in ${firstExample(desk.ledger)}. Tab completes; list shows what waits; back takes the last line back, fix 2 opens the second of the list again; help tells the rest. ${writes}.`,
  );
  const errors = talk.diagnostics.filter(({ severity }) => severity === 'error').length;
  if (errors > 0) {
    say(
      talk,
      `The ledger has ${errors === 1 ? 'an error' : `${errors} errors`} already; pomary check shows where.`,
    );
  }
}

/** What can be typed first, which depends on what is listed already. */
function firstExample({ trees, trial }: Ledger): string {
  const [tree] = trees.keys();
  const [taster] = trial.tasters.keys();
  if (tree === undefined) {
    return `cultivar Amber Lantern bears ${bearsAtFirst(trial.fruit)}, then tree T1 Amber Lantern, then taster mara Mara`;
  }
  const marks = trial.traits.map((_, at) => [8, 9, 7][at % 3]).join(' ');
  const plate = taster === undefined ? '' : ` or taste ${tree}: ${taster} ${marks}`;
  return `${tree} 52.4 47 61.3 for a pick${plate}`;
}

async function converse(talk: Talk): Promise<Departure | undefined> {
  for (;;) {
    const typed = await nextLine(talk);
    if (typed.kind === 'interrupt' || typed.kind === 'gone') return typed.kind;
    const line = typed.kind === 'end' ? 'done' : typed.text;
    if (typed.kind === 'end') talk.desk.host.stdout.write('\n');
    const [word = '', ...rest] = line.trim().toLowerCase().split(/\s+/);
    switch (word) {
      case 'done': {
        const end = await finish(talk);
        if (end === 'written') return undefined;
        if (end !== 'stay') return end;
        break;
      }
      case 'back':
        if (rest.length > 0) await takeBackNumber(talk, rest.join(' '));
        else await takeBackLast(talk);
        break;
      case 'fix': {
        const departure = await fixNumber(
          talk,
          rest.join(' ') || String(talk.progress.session.entries.length),
        );
        if (departure !== undefined) return departure;
        break;
      }
      case 'list':
        sayWaiting(talk);
        break;
      case 'help':
      case '?':
        sayHelp(talk, rest[0]);
        break;
      case 'quit':
      case 'exit':
        say(
          talk,
          'done writes and leaves; Ctrl-C leaves and keeps the lines for the next time.',
          '  ',
        );
        break;
      default: {
        const departure = await takeLine(talk, line);
        if (departure !== undefined) return departure;
        if (talk.options.atOnce && !talk.options.dryRun) await writeAtOnce(talk);
      }
    }
  }
}

async function nextLine(talk: Talk): Promise<Typed> {
  const text = talk.ahead;
  talk.ahead = undefined;
  return text === undefined ? talk.keyboard.next(promptOf(talk)) : { kind: 'line', text };
}

async function writeAtOnce(talk: Talk): Promise<void> {
  const { entries } = talk.progress.session;
  if (entries.length > 0) await write(talk, planEntries(talk.desk, entries));
}

function sayHelp(talk: Talk, word: string | undefined): void {
  const about = SHORTHAND.filter(({ pattern }) => pattern.toLowerCase().split(' ')[0] === word);
  for (const { pattern, example, meaning } of about) {
    say(talk, pattern, '  ');
    say(talk, example, '      ');
    say(talk, meaning, '      ');
  }
  if (about.length > 0) return;
  // Examples alone, a line each: what they mean is asked for one by one.
  for (const { example } of SHORTHAND) say(talk, example, '  ');
  say(
    talk,
    'What was seen, cultivars and trees may end with note and a text. help pick tells more about a kind of line.',
    '  ',
  );
  say(
    talk,
    'back, fix, list, help, done (or Ctrl-D). Ctrl-C leaves; the lines wait for the next time.',
    '  ',
  );
}

/** Offers what sessions before did not write. */
async function offerDrafts(talk: Talk): Promise<Departure | undefined> {
  const { desk } = talk;
  for (const { name, lines } of await findDrafts(desk.host, desk.folder, desk.store)) {
    say(talk, `A session before this one ended with lines not written (${name}):`);
    for (const line of lines) say(talk, line, '    ');
    const typed = await talk.keyboard.next(
      'Take them up? Enter for yes, no to throw them away, later> ',
    );
    if (typed.kind !== 'line') return typed.kind === 'end' ? undefined : typed.kind;
    const answer = typed.text.trim().toLowerCase();
    if (['', 'y', 'yes'].includes(answer)) {
      const lost = replay(talk, lines);
      sayWaiting(talk);
      await adopt(talk, name, lost);
    } else if (['n', 'no'].includes(answer)) {
      desk.host.files.remove(`${desk.folder}/${name}`);
      say(talk, 'Thrown away.', '  ');
    } else {
      say(talk, 'Left for later.', '  ');
      // What is no answer is the next line.
      if (answer !== 'later') talk.ahead = typed.text;
    }
  }
  return undefined;
}

/** The lines go into the draft of this session before that of the other goes; lost ones stay in it. */
async function adopt(talk: Talk, name: string, lost: readonly TypedText[]): Promise<void> {
  if (lost.length > 0) say(talk, 'These lines are not understood, or not settled:');
  for (const { text } of lost) say(talk, text, '    ');
  await keepDraft(talk);
  if (talk.draft.name() === undefined) return;
  const path = `${talk.desk.folder}/${name}`;
  const { files } = talk.desk.host;
  if (lost.length === 0) files.remove(path);
  else files.write(path, draftText(linesAgain(lost)));
}

function leave(talk: Talk, departure: Departure): never {
  const { host } = talk.desk;
  if (departure === 'interrupt') host.stdout.write('\n');
  const name = talk.draft.name();
  const { entries } = talk.progress.session;
  if (entries.length === 0 && talk.asked === undefined) throw new Finished(EXIT.done);
  if (name !== undefined) {
    say(
      talk,
      `Nothing was written. The lines are kept in ${name}; pomary enter offers them again.`,
    );
  } else {
    say(talk, 'Nothing was written. The lines:');
    for (const { date, text } of talk.waiting) say(talk, `on ${date} ${text}`, '  ');
  }
  throw new Finished(EXIT.ledgerErrors);
}
