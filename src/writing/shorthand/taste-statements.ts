import { didYouMean } from '../../diagnostics/did-you-mean.ts';
import { sample as sampleKind } from '../../entries/tasting.ts';
import { RIPENESS } from '../../model/entries.ts';
import type { Crop } from '../../model/ledger.ts';
import type { NewEntry } from '../new-entry.ts';
import { REMARKS, takeFields, typedFields, type Values } from './fields.ts';
import { type LineReading, lineEndToken, meant, peek, slip, take } from './line-reading.ts';
import { findByBeginning, findCrop, findKey, findWord, wordsForCrops } from './names.ts';
import { namedBy, plateOf } from './plate.ts';
import { made } from './statements.ts';
import { isMark, type Marks, markMissing, takeMark, takeMarks } from './take-marks.ts';
import { takeWords } from './take-words.ts';
import { cutAtPunctuation, type Token } from './tokens.ts';

export const TASTE_FIELDS = typedFields(sampleKind.fields);

/** What stands before the words of a taster. */
export const TASTE_WORDS = 'words';

/** What one taster gives a plate. */
interface Sheet {
  /** The key of the taster; undefined until it is known whose it is. */
  readonly taster: string | undefined;
  readonly marks: Marks;
  readonly words: string[];
  /** Whether the taster was named to no end so far. */
  isBare: boolean;
}

/**
 * `taste A1 main: ann 8 9 7, tom 6 7 6.5 words melon`: a plate by tree, cultivar or blind code, and
 * what tasters give it, with marks in the order of the traits or behind the names of traits. So
 * `taste G3 early mara sweetness 8 flavour 9 ripe brix 19.5 eye 3` is of the same grammar.
 */
export function readTaste(reading: LineReading): readonly NewEntry[] {
  cutRest(reading);
  const { ledger } = reading;
  const { traits, tasters } = ledger.trial;
  const head = take(reading);
  if (head === undefined) {
    slip(reading, lineEndToken(reading), 'taste needs a tree', 'type its id');
    return [];
  }
  const sample: Values = {};
  const sheets: Sheet[] = [];
  let crop: Crop | undefined;
  const open = (taster: string | undefined, isBare: boolean): Sheet => {
    const known = sheets.find((one) => one.taster === taster);
    if (known !== undefined) return known;
    const sheet: Sheet = { taster, marks: {}, words: [], isBare };
    sheets.push(sheet);
    return sheet;
  };
  let sheet: Sheet | undefined;
  const current = (): Sheet => {
    sheet ??= open(undefined, false);
    sheet.isBare = false;
    return sheet;
  };
  const loose = (token: Token): boolean => {
    // Who is meant is said by names; commas and colons are only for the eye.
    if (isSign(token, ',') || isSign(token, ':')) {
      take(reading);
      return true;
    }
    const asCrop = findCrop(ledger, token.text);
    const ripeness = findWord(RIPENESS, token.text.toLowerCase());
    const asTaster = findKey(tasters, token.text);
    const asTraits = isTraitHere(reading) ? findByBeginning(traits, token.text) : [];
    if (asCrop !== undefined) {
      take(reading);
      if (crop !== undefined && crop !== asCrop) slip(reading, token, 'both crops are named');
      crop = asCrop;
    } else if (isWords(token)) {
      take(reading);
      current().words.push(...takeWords(reading, token, isEndOfWords));
    } else if (ripeness !== undefined) {
      take(reading);
      sample['ripeness'] = ripeness;
    } else if (asTaster.kind === 'one') {
      take(reading);
      if (sheets.some((one) => one.taster === asTaster.thing)) {
        slip(reading, token, `${token.text} is named twice`, 'all of a taster in one place');
      }
      sheet = open(asTaster.thing, true);
    } else if (isMark(token)) {
      const of = tasterName(reading, sheet?.taster);
      const before = sheet?.marks ?? {};
      const marks = takeMarks(reading, of);
      if (Object.keys(before).length > 0) {
        slip(
          reading,
          token,
          `marks of ${of} stand there already`,
          'name the traits, or type all in one place',
        );
      }
      Object.assign(current().marks, marks);
    } else if (asTraits.length > 0) {
      takeTrait(reading, token, asTraits, current);
    } else if (isGivingMarks(reading)) {
      take(reading);
      const nearest = didYouMean(token.text, [...tasters.keys(), ...traits]);
      const advice = meant(
        nearest,
        `list a new one first, as in taster ${token.text.toLowerCase()} ${token.text}`,
      );
      slip(reading, token, `${token.text} is neither a taster nor a trait of this ledger`, advice);
      // The marks are of somebody, and not of the taster before.
      sheet = { taster: token.text, marks: {}, words: [], isBare: true };
    } else return false;
    return true;
  };
  const isKnown = ({ text }: Token): boolean =>
    text.toLowerCase() === TASTE_WORDS ||
    findCrop(ledger, text) !== undefined ||
    findWord([...RIPENESS, ...traits], text.toLowerCase()) !== undefined ||
    findKey(tasters, text).kind === 'one' ||
    [...TASTE_FIELDS, ...REMARKS].some(({ word }) => word === text.toLowerCase());
  /** Commas part words, unless what comes next is of the next taster. */
  const isEndOfWords = (token: Token): boolean => {
    if (!isSign(token, ',')) return isKnown(token);
    const next = peek(reading, 1);
    return next === undefined || findKey(tasters, next.text).kind === 'one';
  };
  const known = [TASTE_WORDS, ...wordsForCrops(ledger), ...RIPENESS, ...traits, ...tasters.keys()];
  // The crop decides between plates of one name, and may stand anywhere behind it.
  takeFields(reading, 'taste', TASTE_FIELDS, sample, loose, known);
  const given = sheets.flatMap((one) => settled(reading, one, head));
  const plate = plateOf(reading, namedBy(reading, head, crop), crop, head);
  if (plate === undefined) return [];
  const label = String(sample['as'] ?? plate.label);
  const of = <Part>(part: (one: Sheet) => Part, isThere: (one: Sheet) => boolean) =>
    Object.fromEntries(
      given.filter(isThere).map((one) => [one.taster ?? '', { [label]: part(one) }]),
    );
  const scores = of(
    ({ marks }) => inOrder(marks, traits),
    ({ marks }) => Object.keys(marks).length > 0,
  );
  const words = of(
    (one) => one.words,
    (one) => one.words.length > 0,
  );
  return [
    made('tastings', reading, {
      samples: [{ ...plate.sample, ...sample }],
      ...(Object.keys(scores).length === 0 ? {} : { scores }),
      ...(Object.keys(words).length === 0 ? {} : { words }),
    }),
  ];
}

/** The rest of the line with colons, commas and equals signs as words of their own. */
function cutRest(reading: LineReading): void {
  const { tokens, next } = reading;
  reading.tokens = [...tokens.slice(0, next), ...tokens.slice(next).flatMap(cutAtPunctuation)];
}

function isSign({ text, isQuoted }: Token, sign: string): boolean {
  return !isQuoted && text === sign;
}

function isWords({ text, isQuoted }: Token): boolean {
  return !isQuoted && text.toLowerCase() === TASTE_WORDS;
}

/** Whether marks follow a word that nobody knows, which then names who gave them. */
function isGivingMarks(reading: LineReading): boolean {
  const next = peek(reading, 1);
  const after = next !== undefined && isSign(next, ':') ? peek(reading, 2) : next;
  return after !== undefined && isMark(after);
}

/** Whether a mark follows, perhaps behind a sign: `sw 8`, `flavour=8`, `flavour: 8`. */
function isTraitHere(reading: LineReading): boolean {
  const next = peek(reading, 1);
  if (next === undefined) return true;
  const after = isSign(next, '=') || isSign(next, ':') ? peek(reading, 2) : next;
  return after === undefined || isMark(after);
}

function takeTrait(
  reading: LineReading,
  token: Token,
  traits: readonly string[],
  current: () => Sheet,
): void {
  take(reading);
  const [trait = '', ...others] = traits;
  if (others.length > 0) {
    reading.questions.push({
      start: token.start,
      end: token.end,
      message: `which trait is ${token.text}?`,
      answers: traits.map((one) => ({ label: one, text: one })),
    });
  }
  const next = peek(reading);
  if (next !== undefined && (isSign(next, '=') || isSign(next, ':'))) take(reading);
  takeMark(reading, { ...token, text: trait }, trait, current().marks);
}

/** A sheet with its taster, who where none was named is the only one or asked about. */
function settled(reading: LineReading, sheet: Sheet, head: Token): readonly Sheet[] {
  if (sheet.isBare) {
    markMissing(reading, tasterName(reading, sheet.taster));
    return [];
  }
  if (sheet.taster !== undefined) return [sheet];
  const taster = soleTaster(reading, head);
  return taster === undefined ? [] : [{ ...sheet, taster }];
}

function tasterName({ ledger }: LineReading, key: string | undefined): string {
  return (key === undefined ? undefined : ledger.trial.tasters.get(key)?.name) ?? 'the taster';
}

function inOrder(marks: Marks, traits: readonly string[]): Marks {
  return Object.fromEntries(
    traits.flatMap((trait) => {
      const mark = marks[trait];
      return mark === undefined ? [] : [[trait, mark]];
    }),
  );
}

/** The taster where none was named: the only one of the ledger, or asked about. */
export function soleTaster(reading: LineReading, after: Token | undefined): string | undefined {
  const tasters = [...reading.ledger.trial.tasters.values()];
  const [only, ...others] = tasters;
  if (only !== undefined && others.length === 0) {
    reading.remarks.push(`${only.name} is the only taster of this ledger`);
    return only.key;
  }
  const at = after?.end ?? 0;
  if (only === undefined) {
    const advice = 'list one first, as in taster mara Mara';
    slip(reading, after ?? lineEndToken(reading), 'the ledger has no tasters', advice);
    return undefined;
  }
  reading.questions.push({
    start: at,
    end: at,
    message: 'whose scores are these?',
    answers: tasters.map(({ key, name }) => ({ label: name, text: ` ${key}` })),
  });
  return undefined;
}
