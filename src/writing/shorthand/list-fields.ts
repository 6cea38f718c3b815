import { didYouMean } from '../../diagnostics/did-you-mean.ts';
import type { CellField, Fields } from '../../entries/field.ts';
import { bearsAtFirst } from '../../model/bearing.ts';
import { bareUnit, parseQuantity } from '../../model/quantity.ts';
import type { Values } from './fields.ts';
import { type LineReading, meant, slip, take } from './line-reading.ts';
import { findCultivar, findSite } from './names.ts';
import type { Token } from './tokens.ts';
import { readPartialDate } from './typed-date.ts';

/** The words behind a word of a line, up to the next such word. */
export interface Stretch {
  /** The word, absent at the head of the line. */
  readonly word: Token | undefined;
  readonly key: string;
  readonly tokens: readonly Token[];
}

/** The words by which a line names the fields of what is listed, with the field of each. */
export function listWords(fields: Fields): ReadonlyMap<string, readonly [string, CellField]> {
  return new Map(
    Object.entries(fields).flatMap(([key, one]) =>
      // Its own name is understood beside shorter words.
      [...new Set([...(one.words ?? []), key.replaceAll('_', '-')])].map(
        (word) => [word, [key, one]] as const,
      ),
    ),
  );
}

/** The rest of a line cut where a word names a field: what stands before the first comes first. */
export function takeStretches(
  reading: LineReading,
  words: ReadonlyMap<string, readonly [string, CellField]>,
): readonly Stretch[] {
  let open: { word: Token | undefined; key: string; tokens: Token[] } = {
    word: undefined,
    key: '',
    tokens: [],
  };
  const all = [open];
  for (let token = take(reading); token !== undefined; token = take(reading)) {
    const named = token.isQuoted ? undefined : words.get(token.text.toLowerCase());
    if (named === undefined) open.tokens.push(token);
    else {
      open = { word: token, key: named[0], tokens: [] };
      all.push(open);
    }
  }
  return all;
}

/** The words of a stretch as one text. */
export function stretchText({ tokens }: Pick<Stretch, 'tokens'>): string {
  return tokens.map(({ text }) => text).join(' ');
}

/** The value of each field that a line gives, said once, or a slip. */
export function takeListValues(
  reading: LineReading,
  stretches: readonly Stretch[],
  words: ReadonlyMap<string, readonly [string, CellField]>,
  values: Values,
): void {
  for (const stretch of stretches) {
    const { word, key, tokens } = stretch;
    const field = word && words.get(word.text.toLowerCase())?.[1];
    if (word === undefined || field === undefined) continue;
    if (values[key] !== undefined) {
      slip(reading, word, `${word.text} is said twice`, 'keep the one that is meant');
    } else if (tokens.length === 0) {
      slip(reading, word, `${word.text} needs something after it`);
    } else {
      const value = fieldValue(reading, stretch, field);
      if (value !== undefined) values[key] = value;
    }
  }
}

function fieldValue(reading: LineReading, stretch: Stretch, { holds }: CellField): unknown {
  const text = stretchText(stretch);
  const at = spanOf(stretch);
  switch (holds.kind) {
    case 'choice': {
      const wanted = text.toLowerCase().replaceAll(' ', '-');
      const found = holds.of.find((one) => one === wanted);
      if (found !== undefined) return found;
      const nearest = didYouMean(wanted, holds.of);
      slip(reading, at, `${text} is none of ${holds.of.join(', ')}`, meant(nearest));
      return undefined;
    }
    case 'names':
      return namesOf(stretch);
    case 'partial date': {
      const date = readPartialDate(text, reading.today, reading.ledger.trial.dates);
      if (typeof date !== 'object') return date;
      slip(reading, at, `${text} is no day, month or year`, date.advice);
      return undefined;
    }
    case 'yes or no': {
      const answer =
        /^(?:yes|true)$/i.test(text) || (/^(?:no|false)$/i.test(text) ? false : undefined);
      if (answer === undefined) slip(reading, at, `${text} is neither yes nor no`);
      return answer;
    }
    case 'cultivar':
      return cultivarTyped(reading, at, text);
    case 'site':
      return siteOf(reading, at, text);
    default:
      return text;
  }
}

/** Names in quotes one by one, or between commas. */
function namesOf({ tokens }: Stretch): readonly string[] {
  const names: string[] = [];
  let open: string[] = [];
  const close = () => {
    if (open.length > 0) names.push(open.join(' '));
    open = [];
  };
  for (const { text, isQuoted } of tokens) {
    if (isQuoted) {
      close();
      names.push(text);
      continue;
    }
    const [first = '', ...more] = text.split(',');
    if (first !== '') open.push(first);
    for (const one of more) {
      close();
      if (one !== '') open.push(one);
    }
  }
  close();
  return names;
}

export function spanOf({ tokens, word }: Pick<Stretch, 'tokens' | 'word'>): Token {
  const [first] = tokens;
  const last = tokens.at(-1);
  if (first === undefined || last === undefined) return word ?? { text: '', start: 0, end: 1 };
  return { text: stretchText({ tokens }), start: first.start, end: last.end };
}

export function cultivarTyped(reading: LineReading, at: Token, text: string): string | undefined {
  const found = findCultivar(reading.ledger, text);
  if (found.kind === 'one') return found.thing.key;
  if (found.kind === 'several') {
    askWhich(reading, at, `${text} may be ${found.things.length} cultivars; which one?`, [
      ...found.things.map(({ key }) => key),
    ]);
    return undefined;
  }
  const first = `list it first: cultivar "${text}" bears ${bearsAtFirst(reading.ledger.trial.fruit)}`;
  const advice = found.nearest === undefined ? first : `did you mean ${found.nearest}? Or ${first}`;
  slip(reading, at, `${text} is no cultivar of this ledger`, advice);
  return undefined;
}

function siteOf(reading: LineReading, at: Token, text: string): string | undefined {
  const found = findSite(reading.ledger, text);
  if (found.kind === 'one') return found.thing;
  if (found.kind === 'several') {
    askWhich(reading, at, `${text} may be ${found.things.length} sites; which one?`, found.things);
    return undefined;
  }
  const known = [...reading.ledger.trial.sites.keys()].join(', ');
  slip(
    reading,
    at,
    `${text} is no site of this ledger`,
    meant(
      found.nearest,
      `sites: ${known}; a new one is listed by a line as in site yard "south wall" open`,
    ),
  );
  return undefined;
}

function askWhich(
  reading: LineReading,
  { start, end }: Token,
  message: string,
  things: readonly string[],
): void {
  reading.questions.push({
    start,
    end,
    message,
    answers: things.map((one) => ({ label: one, text: one })),
  });
}

function potAdvice(text: string): string {
  const [, size] = /^([\d.,]+) *gal/i.exec(text) ?? [];
  return size === undefined ? 'as in 20 L, or ground' : `as in ${size} US gal, or ${size} UK gal`;
}

/** A pot as it is written: with its unit, so that nobody has to know which is meant. */
export function potOf(reading: LineReading, stretch: Stretch): string | undefined {
  const { units } = reading.ledger.trial;
  const text = stretchText(stretch)
    .replace(/^(?:an?|the)\s+/i, '')
    .replace(/\s+(?:pot|tub)$/i, '');
  if (/^(?:open )?ground$/i.test(text)) return 'ground';
  const size = parseQuantity(text.replace(/(\d),(\d)/, '$1.$2'), 'volume', units);
  if (size === undefined || size <= 0) {
    slip(reading, spanOf(stretch), `${text} is no pot and not the ground`, potAdvice(text));
    return undefined;
  }
  return /^[\d.,]+$/.test(text) ? `${text.replace(',', '.')} ${bareUnit(units, 'volume')}` : text;
}
