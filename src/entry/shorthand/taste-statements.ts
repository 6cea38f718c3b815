import { RIPENESS, sample as sampleKind } from '../../entries/tasting.ts';
import type { Crop } from '../../model/ledger.ts';
import type { NewEntry } from '../new-entry.ts';
import { REMARKS, takeFields, typedFields, type Values } from './fields.ts';
import {
  type LineReading,
  lineEndToken,
  settleCrop,
  slip,
  take,
  takeNumber,
  takeTree,
} from './line-reading.ts';
import { cropWords, findCrop, findKey, findWord } from './names.ts';
import { servedCrop } from './served-samples.ts';
import { made } from './statements.ts';
import { takeWords } from './take-words.ts';
import type { Token } from './tokens.ts';

/** What stands before the words of a taster. */
export const WORDS = 'words';

function isWords({ text, isQuoted }: Token): boolean {
  return !isQuoted && text.toLowerCase() === WORDS;
}

export const TASTE_FIELDS = typedFields(sampleKind.fields);

/** `taste G3 early mara sweetness 8 flavour 9 ripe brix 19.5 eye 3` */
export function readTaste(reading: LineReading): readonly NewEntry[] {
  const { ledger } = reading;
  const { traits, tasters } = ledger.trial;
  const tree = takeTree(reading, 'taste');
  const afterTree = reading.tokens[reading.next - 1];
  const sample: Values = {};
  const scores: Record<string, number> = {};
  const words: string[] = [];
  let crop: Crop | undefined;
  let taster: string | undefined;
  const isKnown = (token: Token) =>
    isWords(token) ||
    findCrop(ledger, token.text) !== undefined ||
    findWord([...RIPENESS, ...traits], token.text.toLowerCase()) !== undefined ||
    findKey(tasters, token.text).kind === 'one' ||
    [...TASTE_FIELDS, ...REMARKS].some(({ word }) => word === token.text.toLowerCase());
  const loose = (token: Token): boolean => {
    const asCrop = findCrop(ledger, token.text);
    const ripeness = findWord(RIPENESS, token.text.toLowerCase());
    const trait = findWord(traits, token.text);
    const asTaster = findKey(tasters, token.text);
    if (asCrop !== undefined) crop = asCrop;
    else if (isWords(token)) {
      take(reading);
      words.push(...takeWords(reading, token, isKnown));
      return true;
    } else if (ripeness !== undefined) sample['ripeness'] = ripeness;
    else if (trait !== undefined) {
      take(reading);
      takeScore(reading, token, trait, scores);
      return true;
    } else if (asTaster.kind === 'one') {
      if (taster !== undefined) slip(reading, token, 'a second taster', 'one line a taster');
      taster = asTaster.thing;
    } else return false;
    take(reading);
    return true;
  };
  const known = [WORDS, ...cropWords(ledger), ...RIPENESS, ...traits, ...tasters.keys()];
  takeFields(reading, 'taste', TASTE_FIELDS, sample, loose, known);
  const isSaid = Object.keys(scores).length > 0 || words.length > 0;
  if (isSaid && taster === undefined) {
    taster = soleTaster(reading, afterTree);
    if (taster === undefined) return [];
  }
  const settled = settleCrop(reading, crop ?? servedCrop(reading, tree), tree);
  if (tree === undefined || settled === undefined) return [];
  const label = String(sample['as'] ?? tree.id);
  const samples = [{ tree: tree.id, crop: settled, ...sample }];
  if (taster === undefined) return [made('tastings', reading, { samples })];
  const who = taster;
  const sheet = (said: unknown) => ({ [who]: { [label]: said } });
  return [
    made('tastings', reading, {
      samples,
      ...(words.length > 0 && Object.keys(scores).length === 0 ? {} : { scores: sheet(scores) }),
      ...(words.length > 0 ? { words: sheet(words) } : {}),
    }),
  ];
}

function takeScore(
  reading: LineReading,
  word: Token,
  trait: string,
  scores: Record<string, number>,
): void {
  const { low, high } = reading.ledger.trial.scale;
  const value = takeNumber(reading, word);
  if (value === undefined) return;
  if (value < low || value > high) {
    slip(reading, word, `${trait} is ${value}, but the scale runs from ${low} to ${high}`);
  } else if (scores[trait] !== undefined) {
    slip(reading, word, `${trait} is said twice`, 'keep the one that is meant');
  } else scores[trait] = value;
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
    const advice = 'add a line tasters: { mara: Mara } to ledger.yaml first';
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
