import { CATALOGUE, SECTIONS } from '../../entries/catalogue.ts';
import { count } from '../../entries/count.ts';
import { drop } from '../../entries/drop.ts';
import type { Kind } from '../../entries/kind.ts';
import { pick } from '../../entries/pick.ts';
import { DEFECTS, type Defect } from '../../model/entries.ts';
import type { Crop, SeasonSection } from '../../model/ledger.ts';
import { unitNames } from '../../model/quantity.ts';
import type { NewEntry } from '../new-entry.ts';
import { looksNumeric } from '../typed-number.ts';
import {
  peekSpoiledFirst,
  type SpoiledFirst,
  type TypedField,
  takeFields,
  takeSpoiledFirst,
  takeValue,
  typedFields,
  type Values,
} from './fields.ts';
import {
  type LineReading,
  lineEndToken,
  peek,
  settleCrop,
  slip,
  take,
  takeAmounts,
  takeTree,
  takeWhole,
} from './line-reading.ts';
import { findCrop, wordsForCrops } from './names.ts';
import type { Token } from './tokens.ts';

export const PICK_FIELDS = typedFields(pick.fields);
export const COUNT_FIELDS = typedFields(count.fields);
export const DROP_FIELDS = typedFields(drop.fields);

/** Words that begin a line of their own and are a field of its entry, as girth, each with its section. */
export const FIELD_STATEMENTS: ReadonlyMap<string, SeasonSection> = new Map(
  SECTIONS.flatMap((section) => {
    const { lines = [] }: Kind = CATALOGUE[section];
    return lines.map(({ pattern }): [string, SeasonSection] => [
      pattern.split(' ')[0] ?? '',
      section,
    ]);
  }),
);

/** `pick G3 early 52.4 47 61.3 split 1` */
export function readPick(reading: LineReading, word: Token): readonly NewEntry[] {
  const tree = takeTree(reading, 'pick');
  const values: Values = {};
  const weights: (number | string)[] = [];
  let behindFruit: Token | undefined;
  const spoiled: SpoiledFirst[] = [];
  const { crop } = takeCropFields(reading, 'pick', PICK_FIELDS, values, (token) => {
    if (!looksNumeric(token.text)) return false;
    const before = peekSpoiledFirst(reading);
    if (before !== undefined) {
      takeSpoiledFirst(reading);
      spoiled.push(before);
      return true;
    }
    if (weights.length === 0 && isNumberOfFruit(reading)) {
      askOfFruit(reading);
      values['fruit'] = Number(token.text);
      reading.next += 2;
      return true;
    }
    const first = reading.next;
    slipOfSecondWeight(reading, token);
    weights.push(...takeAmounts(reading, { ...token, text: 'a weight' }, 'weight'));
    if ([1, 2].some((back) => reading.tokens[first - back]?.text.toLowerCase() === 'fruit')) {
      behindFruit = spanOf(reading.tokens.slice(first, reading.next));
    }
    return true;
  });
  if (behindFruit !== undefined) askOfWeight(reading, behindFruit, values, weights);
  for (const one of spoiled) putSpoiled(reading, one, values, weights);
  checkPick(reading, word, values, weights);
  const settled = settleCrop(reading, crop, tree);
  if (tree === undefined || settled === undefined) return [];
  if (weights.length > 0) values['weights'] = weights;
  return [made('picks', reading, { tree: tree.id, crop: settled, ...values })];
}

/** `12 fruit`, the number before its word. */
function isNumberOfFruit(reading: LineReading): boolean {
  const [number, word] = [peek(reading), peek(reading, 1)];
  return /^\d{1,4}$/.test(number?.text ?? '') && word?.text.toLowerCase() === 'fruit';
}

/** `9 fruit 420` may be nine fruit, or one of 9 g among 420; a weight with its unit leaves no doubt. */
function askOfFruit(reading: LineReading): void {
  const [number, , next, unit] = [0, 1, 2, 3].map((ahead) => peek(reading, ahead));
  if (number === undefined || next === undefined || !/^\d{1,4}$/.test(next.text)) return;
  if (unit !== undefined && unitNames('weight').includes(unit.text)) return;
  const [fruit, after] = [number.text, next.text];
  reading.questions.push({
    start: number.start,
    end: next.end,
    message: `is ${fruit} in ${fruit} fruit ${after} the number of fruit, or a weight?`,
    answers: [
      { label: `${fruit} fruit were picked`, text: `fruit ${fruit} ${after}` },
      {
        label: `${after} were picked, one of them weighed ${fruit}`,
        text: `fruit ${after} ${fruit}`,
      },
    ],
  });
}

/** Of `fruit 9 weight 580 52` nobody knows what the second number is. */
function slipOfSecondWeight(reading: LineReading, token: Token): void {
  const before = reading.tokens.slice(0, reading.next);
  const word = before.findLastIndex(({ text }) => text.toLowerCase() === 'weight');
  if (word < 0) return;
  const between = before.slice(word + 1);
  if (between.length > 2 || between.filter(({ text }) => looksNumeric(text)).length !== 1) return;
  const advice = 'fruit weighed one by one stand before it, as in 52 47 fruit 11 weight 580';
  slip(reading, token, `weight takes one number; found a second, ${token.text}`, advice);
}

/** `2 split` is two split fruit, unless a fruit of 2 g may be meant that was split. */
function putSpoiled(
  reading: LineReading,
  { number, word, defect }: SpoiledFirst,
  values: Values,
  weights: readonly (number | string)[],
): void {
  if (values[defect] !== undefined) {
    slip(reading, word, `${defect} is said twice`, 'keep the one that is meant');
    return;
  }
  const spoilt = Number(number.text);
  const plain = weights.map(Number).filter(Number.isFinite);
  const lightest = Math.min(...plain);
  const picked = Number(values['fruit'] ?? weights.length);
  const mayWeigh = plain.length > 0 && spoilt * 4 > lightest;
  if (mayWeigh || spoilt > picked) {
    reading.questions.push({
      start: number.start,
      end: word.end,
      message: `is ${number.text} ${defect} a number of fruit, or a fruit of that weight that was ${SPOILED[defect]}?`,
      answers: [
        { label: `${number.text} fruit ${SPOILED[defect]}`, text: `${defect} ${number.text}` },
        {
          label: `a fruit of ${number.text}, ${SPOILED[defect]}`,
          text: `${number.text} ${defect} 1`,
        },
      ],
    });
    return;
  }
  values[defect] = spoilt;
}

const SPOILED: Readonly<Record<Defect, string>> = {
  split: 'split',
  bird: 'pecked',
  insect: 'spoiled by insects',
  animal: 'gnawed by animals',
  mould: 'mouldy',
  unripe: 'unripe',
};

function spanOf(tokens: readonly Token[]): Token | undefined {
  const [first] = tokens;
  const text = tokens.map((one) => one.text).join(' ');
  return first && { text, start: first.start, end: tokens.at(-1)?.end ?? first.end };
}

/** In `fruit 3 120` the word weight may be forgotten, or one of the three was weighed. */
function askOfWeight(
  reading: LineReading,
  at: Token,
  values: Values,
  weights: readonly unknown[],
): void {
  const { fruit, weight, sample } = values;
  if (reading.questions.length > 0) return;
  if (weights.length !== 1 || typeof fruit !== 'number' || fruit < 2) return;
  if (weight !== undefined || sample !== undefined) return;
  const { text, start, end } = at;
  const message = `is ${text} the weight of the ${fruit} together, or of one of them?`;
  const answers = [
    { label: `of the ${fruit} together`, text: `weight ${text}` },
    { label: 'of one, taken at random', text: `${text} sample random` },
    { label: 'of the best one', text: `${text} sample best` },
  ];
  reading.questions.push({ start, end, message, answers });
}

/** A line of weights alone adds to the pick before it. */
export function readMoreWeights(
  reading: LineReading,
  last: Extract<NewEntry, { section: 'picks' }>,
): NewEntry {
  const weights: (number | string)[] = [...(last.entry.weights ?? [])];
  const more: Values = {};
  const fields = PICK_FIELDS.filter(({ word }) => word !== 'fruit' && word !== 'weight');
  const spoiled: SpoiledFirst[] = [];
  takeFields(reading, 'pick', fields, more, (token) => {
    if (!looksNumeric(token.text)) return false;
    const before = peekSpoiledFirst(reading);
    if (before !== undefined) {
      takeSpoiledFirst(reading);
      spoiled.push(before);
      return true;
    }
    weights.push(...takeAmounts(reading, { ...token, text: 'a weight' }, 'weight'));
    return true;
  });
  for (const one of spoiled) putSpoiled(reading, one, more, weights);
  const values: Values = { ...last.entry };
  for (const [key, value] of Object.entries(more)) {
    const known = values[key];
    values[key] = typeof known === 'number' && typeof value === 'number' ? known + value : value;
  }
  // Where the number of fruit was said, these are more fruit.
  if (last.entry.fruit !== undefined) {
    values['fruit'] = last.entry.fruit + weights.length - (last.entry.weights?.length ?? 0);
  }
  return { section: 'picks', entry: { ...values, weights } as typeof last.entry };
}

function checkPick(
  reading: LineReading,
  word: Token,
  values: Values,
  weights: readonly unknown[],
): void {
  if (reading.slips.length > 0 || reading.questions.length > 0) return;
  const said = values['fruit'];
  const fruit = typeof said === 'number' ? said : weights.length;
  if (said === undefined && weights.length === 0) {
    const advice = 'type the weights, as in pick G3 early 52.4 47, or fruit 11 weight 580';
    slip(reading, lineEndToken(reading), 'this pick has neither fruit nor weights', advice);
    return;
  }
  if (weights.length > fruit) {
    slip(reading, word, `there are ${weights.length} weights, but fruit is ${fruit}`);
  }
  const spoiled = DEFECTS.reduce((sum, defect) => sum + Number(values[defect] ?? 0), 0);
  if (spoiled > fruit) {
    const advice = 'a spoiled fruit is counted once, under its worst defect';
    slip(reading, word, `${spoiled} spoiled fruit are more than the ${fruit} picked`, advice);
  }
}

/** `count G3 early 21 on 8` */
export function readCount(reading: LineReading): readonly NewEntry[] {
  return readFruit(reading, 'count', COUNT_FIELDS);
}

/** `drop G3 early 2` */
export function readDrop(reading: LineReading): readonly NewEntry[] {
  return readFruit(reading, 'drop', DROP_FIELDS);
}

function readFruit(
  reading: LineReading,
  statement: 'count' | 'drop',
  fields: readonly TypedField[],
): readonly NewEntry[] {
  reading.tokens = withoutUnits(reading.tokens);
  const tree = takeTree(reading, statement);
  const values: Values = {};
  let refused = false;
  const { crop } = takeCropFields(reading, statement, fields, values, (token) => {
    const both = statement === 'count' ? /^(\d+)\/(\d+)$/.exec(token.text) : null;
    if (both !== null && values['fruit'] === undefined && values['branches'] === undefined) {
      take(reading);
      values['fruit'] = Number(both[1]);
      if (Number(both[2]) > 0) values['branches'] = Number(both[2]);
      else slip(reading, token, 'there must be a branch to count on');
      return true;
    }
    if (!looksNumeric(token.text)) return false;
    const before = reading.next;
    const fruit = takeWhole(reading, { ...token, text: statement });
    if (reading.next === before) take(reading);
    if (fruit === undefined) refused = true;
    else if (values['fruit'] !== undefined) {
      slip(
        reading,
        token,
        `a second number of fruit: ${token.text}`,
        'branches follow the word on',
      );
    } else values['fruit'] = fruit;
    return true;
  });
  if (values['fruit'] === undefined && !refused) {
    const advice = statement === 'count' ? 'as in count G3 early 21 on 8' : 'as in drop G3 early 2';
    slip(reading, lineEndToken(reading), `${statement} needs the number of fruit`, advice);
  }
  const settled = settleCrop(reading, crop, tree);
  if (tree === undefined || settled === undefined) return [];
  const section = statement === 'count' ? 'counts' : 'drops';
  return [made(section, reading, { tree: tree.id, crop: settled, ...values })];
}

/** `20 fruit on 6 branches` and `20 fruit 6 branches` in the order that words of fields have: 20 on 6. */
function withoutUnits(tokens: readonly Token[]): readonly Token[] {
  const plain: Token[] = [];
  for (const [at, token] of tokens.entries()) {
    const [before, next] = [tokens[at - 1], tokens[at + 1]];
    const isUnit =
      before !== undefined &&
      looksNumeric(before.text) &&
      (next === undefined || !looksNumeric(next.text) || BRANCH.test(tokens[at + 2]?.text ?? ''));
    if (isUnit && /^fruits?$/i.test(token.text)) continue;
    if (!isUnit || !BRANCH.test(token.text)) plain.push(token);
    else if (tokens[at - 2]?.text.toLowerCase() !== 'on') {
      plain.splice(plain.length - 1, 0, { ...token, text: 'branches' });
    }
  }
  return plain;
}

const BRANCH = /^branch(?:es)?$/i;

/** `girth G3 14.2` or `height G3 180 girth 14.2`: a word that is a field, and others behind it. */
export function readField(
  reading: LineReading,
  word: Token,
  section: SeasonSection,
): readonly NewEntry[] {
  const statement = word.text.toLowerCase();
  const fields = typedFields(CATALOGUE[section].fields);
  const own = fields.find((one) => one.word === statement);
  const tree = takeTree(reading, statement);
  const values: Values = {};
  const value = own && takeValue(reading, word, own.takes);
  if (own !== undefined && value !== undefined) values[own.key] = value;
  takeFields(reading, statement, fields, values, () => false);
  return tree === undefined ? [] : [made(section, reading, { tree: tree.id, ...values })];
}

/** Fields of an entry that has a crop, which may stand anywhere among them. */
function takeCropFields(
  reading: LineReading,
  statement: string,
  fields: readonly TypedField[],
  values: Values,
  loose: (token: Token) => boolean,
): { readonly crop: Crop | undefined } {
  let crop: Crop | undefined;
  const withCrop = (token: Token) => {
    const found = findCrop(reading.ledger, token.text);
    if (found === undefined) return loose(token);
    take(reading);
    if (crop !== undefined && crop !== found) slip(reading, token, 'both crops are named');
    crop = found;
    return true;
  };
  takeFields(reading, statement, fields, values, withCrop, wordsForCrops(reading.ledger));
  return { crop };
}

/**
 * An entry of the line's date. The tables of fields name its keys; the schema of the season file
 * holds them to it when the entry is placed.
 */
export function made(section: NewEntry['section'], reading: LineReading, values: Values): NewEntry {
  const entry: Values = { on: reading.date, ...values };
  return { section, entry } as unknown as NewEntry;
}
