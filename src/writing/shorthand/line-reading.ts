import { didYouMean } from '../../diagnostics/did-you-mean.ts';
import { namesInWords } from '../../diagnostics/phrases.ts';
import { bearsAtFirst } from '../../model/bearing.ts';
import type { Tree } from '../../model/collection.ts';
import type { IsoDate } from '../../model/dates.ts';
import { DEFECTS } from '../../model/entries.ts';
import type { Crop, Ledger } from '../../model/ledger.ts';
import { type Dimension, isInTwoUnits, unitNames } from '../../model/quantity.ts';
import type { NewEntry } from '../new-entry.ts';
import {
  eitherOr,
  looksNumeric,
  readAmount,
  readNumber,
  type TypedDecimalSign,
  type TypedNumbers,
} from '../typed-number.ts';
import { guessCrop } from './guess-crop.ts';
import { findTree } from './names.ts';
import type { Token } from './tokens.ts';

/** Something wrong with a typed line; columns count from 0, `end` is past the last letter. */
export interface Slip {
  readonly start: number;
  readonly end: number;
  readonly message: string;
  readonly advice: string;
  /** Whether all that is wrong here is that something of this name is listed already. */
  readonly isListed?: true;
  /** Words of the line that are not understood, where nothing better can be said of any. */
  readonly strange?: readonly string[];
}

export interface Answer {
  readonly label: string;
  readonly text: string;
  /** A line that goes before this one, so that the same is not asked again. */
  readonly before?: string;
}

/** Something that can be understood in more ways than one. An answer replaces `[start, end)`. */
export interface Question {
  readonly start: number;
  readonly end: number;
  readonly message: string;
  readonly answers: readonly Answer[];
}

/** One line while it is being read. */
export interface LineReading {
  readonly ledger: Ledger;
  readonly today: IsoDate;
  /** Entries typed before in this session. */
  readonly before: readonly NewEntry[];
  tokens: readonly Token[];
  readonly slips: Slip[];
  readonly questions: Question[];
  /** What was understood without being typed, and why. */
  readonly remarks: string[];
  /** What the comma means in the numbers of this line. */
  sign: TypedDecimalSign;
  /** The date of the entries of this line. */
  date: IsoDate;
  /** Index of the next word. */
  next: number;
}

export function peek(reading: LineReading, ahead = 0): Token | undefined {
  return reading.tokens[reading.next + ahead];
}

export function take(reading: LineReading): Token | undefined {
  const token = reading.tokens[reading.next];
  if (token !== undefined) reading.next++;
  return token;
}

/** The place right behind the last word, where something is missing. */
export function lineEndToken(reading: LineReading): Token {
  const end = reading.tokens.at(-1)?.end ?? 0;
  return { text: '', start: end, end: end + 1 };
}

export function slip(reading: LineReading, at: Token, message: string, advice = ''): void {
  reading.slips.push({ start: at.start, end: at.end, message, advice });
}

/** A slip where something of this name is listed already, which may be what the line says. */
export function slipOfListed(reading: LineReading, at: Token, message: string, advice = ''): void {
  reading.slips.push({ start: at.start, end: at.end, message, advice, isListed: true });
}

export function meant(nearest: string | undefined, otherwise = ''): string {
  return nearest === undefined ? otherwise : `did you mean ${nearest}?`;
}

/** The tree that the next word names; undefined with a slip or a question. */
export function takeTree(reading: LineReading, statement: string): Tree | undefined {
  const token = take(reading);
  if (token === undefined) {
    slip(reading, lineEndToken(reading), `${statement} needs a tree`, 'type its id');
    return undefined;
  }
  return treeOf(reading, token);
}

export function treeOf(reading: LineReading, token: Token): Tree | undefined {
  const found = findTree(reading.ledger, token.text);
  switch (found.kind) {
    case 'one':
      return found.thing;
    case 'several': {
      const answers = found.things.map(({ id }) => ({ label: id, text: id }));
      const ids = answers.map(({ label }) => label).join(', ');
      const message = `${token.text} has ${answers.length} trees: ${ids}; which one?`;
      reading.questions.push({ start: token.start, end: token.end, message, answers });
      return undefined;
    }
    case 'none':
      slipOfTree(reading, token);
      return undefined;
  }
}

/** Says that there is no such tree, and how one is listed. */
export function slipOfTree(reading: LineReading, token: Token): void {
  const found = findTree(reading.ledger, token.text);
  const advice = meant(
    found.kind === 'none' ? found.nearest : undefined,
    `list it first, as in tree ${token.text} "Paper Lamp"`,
  );
  slip(reading, token, `${token.text} is no tree of this ledger`, advice);
}

/**
 * The crop of an entry: as typed, or the only one that can be meant, or asked about.
 *
 * @param after the word behind which an answer goes, if not the tree
 */
export function settleCrop(
  reading: LineReading,
  typed: Crop | undefined,
  tree: Tree | undefined,
  after?: Token,
): Crop | undefined {
  if (typed !== undefined || tree === undefined) return typed;
  const guess = guessCrop(reading.ledger, tree, reading.date, reading.before);
  if (guess !== undefined) {
    // Where a cultivar bears once a year, nobody has to be told which crop that is.
    const isPlain = tree.cultivar.bears === 'main';
    if (!isPlain && !reading.remarks.includes(guess.why)) reading.remarks.push(guess.why);
    return guess.crop;
  }
  const { cropNames: names, fruit } = reading.ledger.trial;
  const isLikelyMain = tree.cultivar.bears === 'unknown' && bearsAtFirst(fruit) === 'main';
  const hint = isLikelyMain ? ' If it has one a year, put bears: main into cultivars.yaml' : '';
  const named = (token: Token) => findTree(reading.ledger, token.text).kind === 'one';
  const end = (after ?? reading.tokens.find(named) ?? lineEndToken(reading)).end;
  if (reading.questions.some((question) => question.end === end)) return undefined;
  reading.questions.push({
    start: end,
    end,
    message: `which crop of ${tree.id}: ${names.early} or ${names.main}?${hint}`,
    answers: (['early', 'main'] as const).map((crop) => ({ label: names[crop], text: ` ${crop}` })),
  });
  return undefined;
}

/** A whole number behind a word. */
export function takeWhole(reading: LineReading, word: Token, least = 0): number | undefined {
  const token = takeNumeric(reading, word, '3');
  if (token === undefined) return undefined;
  const read = readNumber(token.text, reading.sign);
  const [number] = read.kind === 'read' ? read.written : [];
  if (Number.isInteger(number) && Number(number) >= least) return Number(number);
  const from = least === 0 ? '0 or more' : `${least} or more`;
  slip(reading, token, `${word.text} needs a whole number, ${from}; found ${token.text}`);
  return undefined;
}

/** A number behind a word. */
export function takeNumber(reading: LineReading, word: Token): number | undefined {
  const token = takeNumeric(reading, word, '8');
  if (token === undefined) return undefined;
  const read = readNumber(token.text, reading.sign);
  const [number] = settled(reading, token, read, `${word.text} needs a number`);
  return number === undefined ? undefined : Number(number);
}

/** A quantity behind a word, its unit joined on or as a word of its own. */
export function takeAmount(
  reading: LineReading,
  word: Token,
  dimension: Dimension,
): number | string | undefined {
  const [amount] = takeAmounts(reading, word, dimension, false);
  const next = peek(reading);
  // Numbers stand apart, so nobody knows what 1 234 is.
  if (Number.isInteger(amount) && Number(amount) < 1000 && /^\d{3}(?!\d)/.test(next?.text ?? '')) {
    const advice = `${amount}${next?.text} in one word, if that is meant`;
    slip(
      reading,
      next ?? word,
      `${word.text} takes one number; found a second, ${next?.text}`,
      advice,
    );
    take(reading);
  }
  return amount;
}

/** The quantities that one word gives: several where commas part them, none with a slip or a question. */
export function takeAmounts(
  reading: LineReading,
  word: Token,
  dimension: Dimension,
  inList = true,
): readonly (number | string)[] {
  const token = takeNumeric(reading, word, '12');
  if (token === undefined) return [];
  const joined = withUnit(reading, token, dimension, inList);
  const read = readTyped(reading, joined.text, dimension, inList);
  const what = `${word.text} needs a number, or a number with its unit (${unitNames(dimension).join(', ')})`;
  const written = settled(reading, joined, read, what);
  if (dimension !== 'temperature' && written.some((one) => typeof one === 'number' && one <= 0)) {
    slip(reading, joined, `${word.text} must be above 0; found ${token.text}`);
    return [];
  }
  return written;
}

function readTyped(
  { ledger, sign }: LineReading,
  text: string,
  dimension: Dimension,
  inList: boolean,
): TypedNumbers {
  return readAmount(text, dimension, ledger.trial.units, sign, inList);
}

/** A number with the words behind it that are its unit, or its ounces after the pounds. */
function withUnit(
  reading: LineReading,
  token: Token,
  dimension: Dimension,
  inList: boolean,
): Token {
  for (const ahead of [3, 2, 1]) {
    const rest = reading.tokens.slice(reading.next, reading.next + ahead);
    const last = rest.at(-1);
    if (rest.length < ahead || last === undefined) continue;
    const text = [token, ...rest].map((one) => one.text).join(' ');
    const isOther = rest.some((one) => looksNumeric(one.text));
    if (isOther && !isInTwoUnits(text, dimension)) continue;
    if (readTyped(reading, text, dimension, inList).kind === 'none') continue;
    reading.next += ahead;
    return { text, start: token.start, end: last.end };
  }
  return token;
}

function takeNumeric(reading: LineReading, word: Token, example: string): Token | undefined {
  const token = peek(reading);
  if (token !== undefined && looksNumeric(token.text)) return take(reading);
  slip(
    reading,
    word,
    `${word.text} needs a number after it`,
    `for example ${word.text} ${example}`,
  );
  return undefined;
}

function settled(
  reading: LineReading,
  at: Token,
  read: TypedNumbers,
  needed: string,
): readonly (number | string)[] {
  if (read.kind === 'read') return read.written;
  if (read.kind === 'none') {
    slip(reading, at, `${needed}; found ${at.text}`);
    return [];
  }
  const { start, end } = at;
  const message = `is ${at.text} ${eitherOr(read.readings)}?`;
  const answers = read.readings.map((text) => ({ label: text, text }));
  reading.questions.push({ start, end, message, answers });
  return [];
}

/**
 * Says that a word is not understood, with the nearest of those that could stand here.
 *
 * @param called the one that it is another name for
 */
export function notUnderstood(
  reading: LineReading,
  token: Token,
  statement: string,
  known: readonly string[],
  called?: string,
): void {
  const nearest = called ?? didYouMean(token.text, known);
  if (nearest === undefined) {
    slipOfStrange(reading, token, statement, `here may stand: ${known.join(', ')}`);
    return;
  }
  // Of wasps the ledger counts insects; which insects is worth a note.
  const isWider =
    (DEFECTS as readonly (string | undefined)[]).includes(called) &&
    !token.text.toLowerCase().startsWith(String(called));
  const advice = isWider
    ? `did you mean ${called}? note ${token.text} at the end keeps the word`
    : meant(nearest);
  slip(reading, token, `${token.text} is not understood in ${statement}`, advice);
}

/** Several words that could be anything are one slip: what may stand there is said once. */
function slipOfStrange(
  reading: LineReading,
  token: Token,
  statement: string,
  advice: string,
): void {
  const { slips } = reading;
  const at = slips.findIndex((one) => one.strange !== undefined && one.advice === advice);
  const strange = [...(slips[at]?.strange ?? []), token.text];
  const verb = strange.length === 1 ? 'is' : 'are';
  const message = `${namesInWords(strange)} ${verb} not understood in ${statement}`;
  const { start, end } = slips[at] ?? token;
  slips.splice(at < 0 ? slips.length : at, 1, { start, end, message, advice, strange });
}
