import { looksNumeric, readNumber, type TypedDecimalSign } from '../typed-number.ts';
import { type LineReading, lineEndToken, peek, slip, take } from './line-reading.ts';
import type { Token } from './tokens.ts';

/** Marks by trait. */
export type Marks = Record<string, number>;

/** Whether a word may be a mark: a number, or `-` for none. */
export function isMark({ text, isQuoted }: Token): boolean {
  return !isQuoted && (text === '-' || text === '–' || looksNumeric(text));
}

/**
 * Marks by their place, in the order of the ledger's traits: `8 9 7,5`, with `-` where there is none.
 * Where a comma may be the decimal sign or part two marks, the number of traits and the scale tell
 * which is meant; where they do not, it is asked, and so it is where there are fewer marks than traits.
 *
 * @param of whose marks they are, as people say it
 */
export function takeMarks(reading: LineReading, of: string): Marks {
  const { traits, scale } = reading.ledger.trial;
  const tokens: Token[] = [];
  for (let token = peek(reading); token !== undefined; token = peek(reading)) {
    const next = peek(reading, 1);
    // Before the marks of the next taster stands their name, so a comma before a mark parts marks.
    const isComma = tokens.length > 0 && token.text === ',' && next !== undefined && isMark(next);
    if (!isMark(token) && !isComma) break;
    if (!isComma) tokens.push(token);
    take(reading);
  }
  const ways = waysOfAll(tokens, reading.sign);
  const span = spanOf(tokens);
  if (ways === undefined) {
    const wrong = tokens.find((token) => waysOf(token.text, reading.sign).length === 0) ?? span;
    const advice = wrong.text.endsWith(';')
      ? 'a comma parts tasters, as in ann 8 9 7, tom 6 7 6.5'
      : 'a mark is a number, or - for none';
    slip(reading, wrong, `${wrong.text} is no mark`, advice);
    return {};
  }
  const fitting = ways.filter(
    (marks) =>
      marks.length <= traits.length &&
      marks.every((mark) => mark === undefined || isOnScale(mark, scale)),
  );
  const [only, ...others] = fitting;
  if (only === undefined) {
    tellMisfit(reading, span, ways[0] ?? [], of);
    return {};
  }
  if (others.length > 0) {
    askWhich(reading, span, fitting, of);
    return {};
  }
  if (only.length < traits.length) askOfRest(reading, span, only, of);
  return Object.fromEntries(
    only.flatMap((mark, at) => (mark === undefined ? [] : [[traits[at] ?? '', mark]])),
  );
}

type Row = readonly (number | undefined)[];

/** Every way to read some marks; undefined where one of them is no mark. */
function waysOfAll(tokens: readonly Token[], sign: TypedDecimalSign): readonly Row[] | undefined {
  let rows: readonly Row[] = [[]];
  for (const { text } of tokens) {
    const ways = waysOf(text, sign);
    if (ways.length === 0) return undefined;
    rows = rows.flatMap((row) => ways.map((way) => [...row, ...way])).slice(0, MOST_WAYS);
  }
  return rows;
}

/** Sheets are short; a line with so many doubts is asked about whatever they are. */
const MOST_WAYS = 64;

/** The ways to read a word: one mark, or several where commas part them. */
function waysOf(text: string, sign: TypedDecimalSign): readonly Row[] {
  if (text === '-' || text === '–') return [[undefined]];
  const plain = text.replace(/½$/, '.5').replace(/,$/, '');
  if (!plain.includes(',')) {
    const read = readNumber(plain, sign);
    return read.kind === 'read' ? [read.written.map(Number)] : [];
  }
  const parts = plain.split(',');
  if (!parts.every((part) => /^\d+(?:\.\d+)?$/.test(part))) return [];
  const apart = parts.map(Number);
  const [first = '', second = '', ...more] = parts;
  const isDecimal = more.length === 0 && !plain.includes('.');
  const decimal: readonly Row[] = isDecimal ? [[Number(`${first}.${second}`)]] : [];
  if (sign === 'comma' && isDecimal) return decimal;
  return sign === 'point' ? [apart] : [...decimal, apart];
}

function isOnScale(mark: number, { low, high }: { low: number; high: number }): boolean {
  return mark >= low && mark <= high;
}

function tellMisfit(reading: LineReading, span: Token, row: Row, of: string): void {
  const { traits, scale } = reading.ledger.trial;
  const off = row.find((mark) => mark !== undefined && !isOnScale(mark, scale));
  if (off !== undefined) {
    slip(reading, span, `${off} is off the scale, which runs from ${scale.low} to ${scale.high}`);
    return;
  }
  slip(
    reading,
    span,
    `${of} gives ${row.length} marks, but there are ${traits.length} traits: ${traits.join(', ')}`,
    'one mark for each in that order, or - for none',
  );
}

function askWhich(reading: LineReading, span: Token, rows: readonly Row[], of: string): void {
  reading.questions.push({
    start: span.start,
    end: span.end,
    message: `which marks does ${of} give with ${span.text}?`,
    answers: rows.slice(0, 4).map((row) => ({ label: rowInWords(reading, row), text: typed(row) })),
  });
}

function askOfRest(reading: LineReading, span: Token, row: Row, of: string): void {
  const { traits } = reading.ledger.trial;
  const missing = traits.slice(row.length);
  reading.questions.push({
    start: span.end,
    end: span.end,
    message: `${of}: ${rowInWords(reading, row)}; and no mark for ${missing.join(' and ')}?`,
    answers: [
      {
        label: `none for ${missing.join(' and ')}, typed as -`,
        text: ' -'.repeat(missing.length),
      },
    ],
  });
}

function rowInWords({ ledger }: LineReading, row: Row): string {
  const { traits } = ledger.trial;
  return row
    .map((mark, at) => `${traits[at] ?? ''} ${mark === undefined ? 'none' : mark}`)
    .join(', ');
}

/** As it would be typed without a doubt. */
function typed(row: Row): string {
  return row.map((mark) => mark ?? '-').join(' ');
}

function spanOf(tokens: readonly Token[]): Token {
  const [first] = tokens;
  const last = tokens.at(-1);
  if (first === undefined || last === undefined) return { text: '', start: 0, end: 1 };
  return { text: tokens.map(({ text }) => text).join(' '), start: first.start, end: last.end };
}

/** One mark behind the word of a trait; `-` says that there is none. */
export function takeMark(reading: LineReading, word: Token, trait: string, marks: Marks): void {
  const token = peek(reading);
  if (token === undefined || !isMark(token)) {
    slip(reading, word, `${trait} needs a mark after it`, `for example ${trait} 8`);
    return;
  }
  take(reading);
  if (token.text === '-' || token.text === '–') return;
  const { scale } = reading.ledger.trial;
  const ways = waysOf(token.text, reading.sign).filter((row) => row.length === 1);
  const mark = ways[0]?.[0];
  if (mark === undefined) slip(reading, token, `${token.text} is no mark`);
  else if (!isOnScale(mark, scale)) {
    slip(
      reading,
      token,
      `${trait} is ${mark}, but the scale runs from ${scale.low} to ${scale.high}`,
    );
  } else if (marks[trait] !== undefined) {
    slip(reading, word, `${trait} is said twice`, 'keep the one that is meant');
  } else marks[trait] = mark;
}

/** Where a mark is missing at the end of a line. */
export function markMissing(reading: LineReading, of: string): void {
  slip(
    reading,
    lineEndToken(reading),
    `no marks and no words of ${of}`,
    'marks in the order of the traits, as in ann 8 9 7',
  );
}
