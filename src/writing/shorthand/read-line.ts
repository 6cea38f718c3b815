import { didYouMean } from '../../diagnostics/did-you-mean.ts';
import { EVENT_WORDS } from '../../entries/event.ts';
import type { IsoDate } from '../../model/dates.ts';
import type { Ledger } from '../../model/ledger.ts';
import { bareUnit } from '../../model/quantity.ts';
import { type Entered, isListing, isSeasonEntry, type Listing } from '../listing.ts';
import { decimalSignOf, looksNumeric, type TypedDecimalSign } from '../typed-number.ts';
import { entryInWords, runningTotal } from './entry-in-words.ts';
import { readEvent } from './event-statements.ts';
import { REMARKS } from './fields.ts';
import {
  type LineReading,
  meant,
  peek,
  type Question,
  type Slip,
  slip,
  slipOfTree,
  take,
} from './line-reading.ts';
import {
  CULTIVAR_WORDS,
  readCultivar,
  readDatesSetting,
  readRemoval,
  readSite,
  readTaster,
  readTree,
  TREE_WORDS,
} from './list-statements.ts';
import { findCrop, findKey, findTree, namesOfSeveralWords } from './names.ts';
import { readOrder } from './order-statement.ts';
import {
  COUNT_FIELDS,
  FIELD_STATEMENTS,
  PICK_FIELDS,
  readCount,
  readDrop,
  readField,
  readMoreWeights,
  readPick,
} from './statements.ts';
import { readTaste } from './taste-statements.ts';
import { joinNames, type Token, tokensOf } from './tokens.ts';
import { dateInWords, readDate } from './typed-date.ts';

/** What has been typed so far. A session is never changed; each line gives the next one. */
export interface Session {
  readonly today: IsoDate;
  /** The date of what is typed next. */
  readonly date: IsoDate;
  readonly entries: readonly Entered[];
}

export interface LineRead {
  /** The session after this line; as before where the line was not understood. */
  readonly session: Session;
  /** What the line adds. */
  readonly entries: readonly Entered[];
  /** The entry before, which the line adds to and so replaces. */
  readonly replaced: Entered | undefined;
  /** The line in words, one line of text each; empty where nothing was typed. */
  readonly understood: readonly string[];
  readonly questions: readonly Question[];
  readonly slips: readonly Slip[];
  /** What the line would list, where nothing is wrong but that it is listed already. */
  readonly listed?: readonly Listing[];
}

/** The beginnings of lines that list something. */
export const LIST_STATEMENTS: readonly string[] = ['cultivar', 'tree', 'taster', 'site', 'dates'];

export const STATEMENTS: readonly string[] = [
  'on',
  'pick',
  'count',
  'drop',
  'taste',
  'order',
  ...FIELD_STATEMENTS.keys(),
  ...EVENT_WORDS,
  'remove',
  ...LIST_STATEMENTS,
];

/** The statements that name a tree first. */
const OF_TREES: ReadonlySet<string> = new Set(
  STATEMENTS.filter((one) => !['on', 'order', ...LIST_STATEMENTS].includes(one)),
);

export function beginSession(today: IsoDate, date: IsoDate = today): Session {
  return { today, date, entries: [] };
}

/**
 * Reads one typed line. Everything wrong with it is told at once; a line with a slip or an open
 * question adds nothing.
 */
export function readLine(line: string, session: Session, ledger: Ledger): LineRead {
  const reading: LineReading = {
    ledger,
    today: session.today,
    before: session.entries.filter(isSeasonEntry),
    tokens: joinNames(tokensOf(line), namesOfSeveralWords(ledger)),
    slips: [],
    questions: [],
    remarks: [],
    sign: 'open',
    date: session.date,
    next: 0,
  };
  // Of words that a quote does not hold together nothing can be said.
  const { entries, replaced }: Made = slipOfQuote(reading)
    ? { entries: [] }
    : readStatements(reading, session);
  slipOfHash(reading, line);
  const { slips, questions } = reading;
  if (slips.length > 0 || questions.length > 0) {
    const isListed = questions.length === 0 && slips.every((one) => one.isListed);
    const listed = isListed ? entries.filter(isListing) : [];
    return { session, entries: [], replaced: undefined, understood: [], questions, slips, listed };
  }
  const before = replaced === undefined ? session.entries : session.entries.slice(0, -1);
  const next = { ...session, date: reading.date, entries: [...before, ...entries] };
  return {
    session: next,
    entries,
    replaced,
    questions,
    slips,
    // Totals of the day take reading the season, and not everyone wants them.
    get understood() {
      return inWords(reading, entries, before);
    },
  };
}

function inWords(
  { ledger, tokens, date, remarks }: LineReading,
  entries: readonly Entered[],
  before: readonly Entered[],
): readonly string[] {
  if (entries.length === 0 && tokens.length > 0) return [`what follows is of ${dateInWords(date)}`];
  return entries.flatMap((one) => [
    entryInWords(ledger, one),
    ...remarks,
    ...runningTotal(ledger, before, one),
  ]);
}

/** The line with an answer to a question in its place. */
export function answered(
  line: string,
  question: Question,
  answer: Question['answers'][number],
): string {
  return line.slice(0, question.start) + answer.text + line.slice(question.end);
}

/** `cultivar Unlabelled #3` would be listed as Unlabelled. */
function slipOfHash(reading: LineReading, line: string): void {
  const [first] = reading.tokens;
  if (first === undefined || !LIST_STATEMENTS.includes(first.text.toLowerCase())) return;
  const found = /\s(#[^\s#]\S*)/.exec(
    line.replaceAll(/"[^"]*"/g, (quoted) => ' '.repeat(quoted.length)),
  );
  const hidden = found?.[1];
  if (found === null || hidden === undefined) return;
  const last = reading.tokens.at(-1);
  if (last?.isQuoted && found.index < last.end) return;
  const start = found.index + 1;
  const before = reading.tokens.slice(1).map(({ text }) => text);
  slip(
    reading,
    { text: hidden, start, end: start + hidden.length },
    'what begins with # is left out as a comment',
    `in quotes it belongs to the name: "${[...before, hidden].join(' ')}"`,
  );
}

/** `"neem oil; wait 3` would be a product whose name begins with a quote. */
function slipOfQuote(reading: LineReading): boolean {
  const broken = reading.tokens.find(({ text, isQuoted }) => !isQuoted && text.startsWith('"'));
  if (broken === undefined) return false;
  const advice = 'one stands on either side of a name, and a blank, a comma or a colon behind it';
  slip(reading, broken, 'this quote holds nothing together', advice);
  return true;
}

interface Made {
  readonly entries: readonly Entered[];
  readonly replaced?: Entered;
}

function readStatements(reading: LineReading, session: Session): Made {
  if (isBareDate(reading)) {
    takeDate(reading, reading.tokens[0] as Token);
    return { entries: [] };
  }
  const word = take(reading);
  if (word === undefined) return { entries: [] };
  if (looksNumeric(word.text) && !reading.ledger.trees.has(word.text)) {
    const last = session.entries.at(-1);
    reading.next--;
    reading.sign = signOf(reading, true);
    if (last?.section === 'picks' && last.entry.on === session.date) {
      return { entries: [readMoreWeights(reading, last)], replaced: last };
    }
    const advice = 'begin with pick and the tree, as in pick G3 early 52.4';
    slip(reading, word, 'weights of which tree?', advice);
    return { entries: [] };
  }
  if (looksNumeric(word.text)) {
    const { start, end, text } = word;
    const unit = bareUnit(reading.ledger.trial.units, 'weight');
    reading.questions.push({
      start,
      end,
      message: `is ${text} the tree, or a weight for the pick before?`,
      answers: [
        { label: `a pick of the tree ${text}`, text: `pick ${text}` },
        { label: `${text} ${unit}`, text: `${text}${unit}` },
      ],
    });
    return { entries: [] };
  }
  if (word.text.toLowerCase() === 'on') {
    takeDate(reading, word);
    const next = take(reading);
    return next === undefined ? { entries: [] } : { entries: readStatement(reading, next) };
  }
  return { entries: readStatement(reading, word) };
}

function readStatement(reading: LineReading, word: Token): readonly Entered[] {
  const statement = word.text.toLowerCase();
  if (statement !== 'taste') reading.tokens = reading.tokens.map(withoutColon);
  reading.sign = signOf(reading, statement === 'pick' || statement === 'taste');
  switch (statement) {
    case 'pick':
      return readPick(reading, word);
    case 'count':
      return readCount(reading);
    case 'drop':
      return readDrop(reading);
    case 'taste':
      return readTaste(reading);
    case 'order':
      return readOrder(reading);
    case 'remove':
      return readRemoval(reading);
    case 'cultivar':
      return readCultivar(reading);
    case 'tree':
      return readTree(reading);
    case 'taster':
      return readTaster(reading);
    case 'site':
      return readSite(reading);
    case 'dates':
      return readDatesSetting(reading, word);
  }
  const section = FIELD_STATEMENTS.get(statement);
  if (section !== undefined) return readField(reading, word, section);
  const event = EVENT_WORDS.find((one) => one === statement);
  if (event !== undefined) return readEvent(reading, event);
  if (namesTree(reading.ledger, word)) {
    // What begins with a tree is a pick, unless fruit and branches can only be a count.
    const rest = reading.tokens.slice(reading.next);
    const [first] = rest;
    if (first !== undefined && GONE.test(first.text)) {
      const message = `${first.text} is not understood behind a tree`;
      slip(reading, first, message, `of a tree that is there no longer: remove ${word.text}`);
      return [];
    }
    reading.next--;
    const behind = verbBehind(reading);
    if (behind !== undefined) {
      reading.tokens = reading.tokens.filter((token) => token !== behind);
      return readStatement(reading, behind);
    }
    if (namesTaster(reading, rest)) return readTaste(reading);
    if (isOfBranches(rest)) return readCount(reading);
    reading.sign = signOf(reading, true);
    return readPick(reading, word);
  }
  slipOfBeginning(reading, word);
  return [];
}

/** The word that says what is told of a tree, where it stands behind the tree or its crop: `G3 early count 21/8`. */
function verbBehind({ tokens, next, ledger }: LineReading): Token | undefined {
  const [first, second] = tokens.slice(next + 1);
  const isCrop = first !== undefined && findCrop(ledger, first.text) !== undefined;
  const verb = isCrop ? second : first;
  return verb !== undefined && !verb.isQuoted && OF_TREES.has(verb.text.toLowerCase())
    ? verb
    : undefined;
}

/** `G3 early mara 8 9 7`: a pick has no taster. */
function namesTaster({ ledger }: LineReading, [first, second]: readonly Token[]): boolean {
  const isCrop = first !== undefined && findCrop(ledger, first.text) !== undefined;
  const who = (isCrop ? second : first)?.text.replace(/[:,]$/, '') ?? '';
  if (PICK_FIELDS.some(({ word }) => word === who.toLowerCase())) return false;
  return findKey(ledger.trial.tasters, who).kind === 'one';
}

const GONE = /^(?:dead|died|gone|removed|grubbed|given)$/i;

/** `21/8`, or `21 on 8` where nothing but a remark follows. */
function isOfBranches(words: readonly Token[]): boolean {
  const bare = words.filter(({ isQuoted }) => !isQuoted).map(({ text }) => text.toLowerCase());
  return (
    bare.some((text) => /^\d+\/\d+$/.test(text)) ||
    /(?:^| )\d+(?: fruit)? on \d+(?: branch(?:es)?)?(?: note| photo|$)/.test(bare.join(' '))
  );
}

/** Why a line cannot begin with a word: a tree that is not listed, a part of another line, or a slip. */
function slipOfBeginning(reading: LineReading, word: Token): void {
  if (PARTS.has(word.text.toLowerCase())) {
    const message = `${word.text} belongs on the line of what it is about`;
    slip(reading, word, message, 'at a terminal fix opens the last line again');
    return;
  }
  if (findKey(reading.ledger.trial.tasters, word.text).kind === 'one') {
    const message = `${word.text} is a taster, and marks are of a plate`;
    slip(reading, word, message, `name the tree first, as in taste TREE CROP ${word.text} 8 9`);
    return;
  }
  const verb = didYouMean(word.text, STATEMENTS);
  const next = peek(reading)?.text ?? '';
  const isFollowedAsTree = looksNumeric(next) || findCrop(reading.ledger, next) !== undefined;
  if (/\d/.test(word.text) || (isFollowedAsTree && verb === undefined)) {
    slipOfTree(reading, word);
    return;
  }
  const advice = meant(verb, `a line begins with ${STATEMENTS.join(', ')}`);
  slip(reading, word, `${word.text} is no beginning of a line`, advice);
}

/** Words that stand inside a line and never begin one. */
const PARTS: ReadonlySet<string> = new Set([
  ...[...PICK_FIELDS, ...COUNT_FIELDS, ...REMARKS].map(({ word }) => word),
  ...CULTIVAR_WORDS.keys(),
  ...TREE_WORDS.keys(),
]);

/** `A1 main: 41 38` is typed as a plate is. */
function withoutColon(token: Token): Token {
  if (token.isQuoted || !/.:$/.test(token.text)) return token;
  return { ...token, text: token.text.slice(0, -1), end: token.end - 1 };
}

function namesTree(ledger: Ledger, { text }: Token): boolean {
  return findTree(ledger, text).kind !== 'none';
}

/** The decimal sign of the numbers that follow, but for a note. */
function signOf({ tokens, next, ledger }: LineReading, inList: boolean): TypedDecimalSign {
  const numbers = tokens
    .slice(next)
    .filter(({ text }) => looksNumeric(text))
    .map(({ text }) => ({ text, inList }));
  return decimalSignOf(numbers, ledger.trial.decimal);
}

/** `24 Jul`, `friday` or `3 days ago` alone; 24.7 or 24/7 alone may be a weight or a count. */
function isBareDate({ tokens, today, ledger }: LineReading): boolean {
  const [first] = tokens;
  if (first === undefined || tokens.some(({ isQuoted }) => isQuoted)) return false;
  const isPlain =
    /^\d{4}-\d|^\d+([./])\d+\1\d{4}$/.test(first.text) ||
    tokens.some(({ text }) => /[a-z]{3}/i.test(text));
  if (!isPlain || namesTree(ledger, first)) return false;
  const found = readDate(
    tokens.map(({ text }) => text),
    today,
    ledger.trial.dates,
  );
  return found.kind !== 'none' && found.used === tokens.length;
}

/** `on 24 Jul`: the date of what follows, on this line and the next. */
function takeDate(reading: LineReading, word: Token): void {
  const words = reading.tokens.slice(reading.next, reading.next + 3);
  const found = readDate(
    words.map(({ text }) => text),
    reading.today,
    reading.ledger.trial.dates,
  );
  const [first] = words;
  if (first === undefined) {
    slip(reading, word, 'on needs a date', 'as in on 2026-07-24, on 24 Jul, on yesterday');
    return;
  }
  const used = found.kind === 'none' ? 1 : found.used;
  const last = words[used - 1] ?? first;
  const at = { text: first.text, start: first.start, end: last.end };
  reading.next += used;
  switch (found.kind) {
    case 'date':
      reading.date = found.date;
      return;
    case 'unclear': {
      // The answer is kept in the ledger, so that it is asked once and not every evening.
      const [dayFirst, monthFirst] = found.readings;
      const answers = [
        { date: dayFirst, order: 'day-first' },
        { date: monthFirst, order: 'month-first' },
      ].flatMap(({ date, order }) =>
        date === undefined
          ? []
          : [{ label: dateInWords(date), text: date, before: `dates ${order}` }],
      );
      const message = `is ${first.text} ${answers.map(({ label }) => label).join(' or ')}?`;
      reading.questions.push({ start: at.start, end: at.end, message, answers });
      return;
    }
    case 'unreal':
      slip(
        reading,
        at,
        `there is no such day as ${words
          .slice(0, used)
          .map(({ text }) => text)
          .join(' ')}`,
        'as in 2026-07-24 or 24 Jul',
      );
      return;
    case 'none':
      slip(reading, at, `${first.text} is no date`, 'as in 2026-07-24, 24 Jul, 24.7., yesterday');
  }
}
