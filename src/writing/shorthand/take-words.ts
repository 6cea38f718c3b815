import { plainWord } from '../../model/plain-word.ts';
import { looksNumeric } from '../typed-number.ts';
import { type LineReading, peek, slip, take } from './line-reading.ts';
import type { Token } from './tokens.ts';

/**
 * What stands behind `words` on a line, up to the word that `isEnd`: `melon fresh` are two words. A
 * phrase stands in quotes, between commas as in `melon, wild honey, fresh`, or is one of the ledger's.
 * A word that the ledger lists is spelled as it is there.
 */
export function takeWords(
  reading: LineReading,
  word: Token,
  isEnd: (token: Token) => boolean,
): readonly string[] {
  const tokens: Token[] = [];
  for (let token = peek(reading); token !== undefined; token = peek(reading)) {
    if (!token.isQuoted && (looksNumeric(token.text) || isEnd(token))) break;
    tokens.push(token);
    take(reading);
  }
  const parted = tokens.find(({ text, isQuoted }) => !isQuoted && text.includes(';'));
  if (parted !== undefined) {
    slip(reading, parted, `${parted.text} is no word`, 'a comma parts words, and tasters');
    return [];
  }
  const isParted = tokens.some(({ text, isQuoted }) => !isQuoted && text.includes(','));
  const phrases = segmentsOf(tokens).flatMap((segment) => phrasesIn(reading, segment, isParted));
  if (phrases.length === 0 && reading.questions.length === 0) {
    slip(reading, word, 'words needs a word after it', 'as in words melon fresh');
  }
  return [...new Map(phrases.map((one) => [plainWord(one), one])).values()];
}

/** The words between commas, which are no part of them; what stands in quotes is by itself. */
function segmentsOf(tokens: readonly Token[]): readonly (readonly Token[])[] {
  const segments: Token[][] = [[]];
  for (const token of tokens) {
    if (token.isQuoted) {
      segments.push([token], []);
      continue;
    }
    for (const [place, text] of token.text.split(',').entries()) {
      if (place > 0) segments.push([]);
      if (text !== '') segments.at(-1)?.push({ ...token, text });
    }
  }
  return segments.filter((segment) => segment.length > 0);
}

/** One phrase where commas part phrases, else a phrase a word, or as many words as the ledger lists together. */
function phrasesIn(
  reading: LineReading,
  segment: readonly Token[],
  isParted: boolean,
): readonly string[] {
  const listed = new Map(
    reading.ledger.trial.words.map((one) => [plainWord(one).replaceAll('-', ' '), one]),
  );
  const asListed = (text: string) => listed.get(plainWord(text).replaceAll('-', ' '));
  const whole = segment.map(({ text }) => text).join(' ');
  if (isParted || segment.length === 1) {
    const isDoubtful =
      segment.length > 1 &&
      asListed(whole) === undefined &&
      segment.every(({ text }) => asListed(text) !== undefined);
    if (isDoubtful) askOfPhrase(reading, segment, whole);
    return [asListed(whole) ?? whole];
  }
  const phrases: string[] = [];
  for (let at = 0; at < segment.length; ) {
    let length = segment.length - at;
    const text = () =>
      segment
        .slice(at, at + length)
        .map((one) => one.text)
        .join(' ');
    while (length > 1 && asListed(text()) === undefined) length--;
    phrases.push(asListed(text()) ?? text());
    at += length;
  }
  return phrases;
}

/** Between commas stand words that the ledger lists one by one: they may be a phrase all the same. */
function askOfPhrase(reading: LineReading, segment: readonly Token[], whole: string): void {
  const start = segment[0]?.start ?? 0;
  const end = start + segment.map(({ text }) => text).join(' ').length;
  reading.questions.push({
    start,
    end,
    message: `is ${whole} one phrase, or are they ${segment.length} words?`,
    answers: [
      { label: `"${whole}"`, text: `"${whole}"` },
      {
        label: segment.map(({ text }) => text).join(' and '),
        text: segment.map(({ text }) => text).join(', '),
      },
    ],
  });
}
