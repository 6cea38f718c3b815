import type { Tree } from '../../model/collection.ts';
import type { IsoDate } from '../../model/dates.ts';
import type { Crop, Ledger } from '../../model/ledger.ts';
import type { NewEntry } from '../new-entry.ts';
import { type Field, field, takeFields, type Values } from './fields.ts';
import {
  type LineReading,
  lineEndToken,
  meant,
  peek,
  settleCrop,
  slip,
  take,
  takeNumber,
  takeTree,
  treeOf,
} from './line-reading.ts';
import { cropWords, findCrop, findKey, findWord } from './names.ts';
import { made } from './statements.ts';
import { cutAtSigns, type Token } from './tokens.ts';

export const RIPENESS = ['under', 'ripe', 'over'];
export const TASTE_FIELDS: readonly Field[] = [
  field('ripeness', { kind: 'choice', of: RIPENESS }),
  field('brix', { kind: 'number' }),
  field('eye', { kind: 'amount', dimension: 'width' }),
  field('as', { kind: 'text' }),
];

/** `taste G3 early mara sweetness 8 flavour 9 ripe brix 19.5 eye 3` */
export function readTaste(reading: LineReading): readonly NewEntry[] {
  const { ledger } = reading;
  const { traits, tasters } = ledger.trial;
  const tree = takeTree(reading, 'taste');
  const afterTree = reading.tokens[reading.next - 1];
  const sample: Values = {};
  const scores: Record<string, number> = {};
  let crop: Crop | undefined;
  let taster: string | undefined;
  const loose = (token: Token): boolean => {
    const asCrop = findCrop(ledger, token.text);
    const ripeness = findWord(RIPENESS, token.text.toLowerCase());
    const trait = findWord(traits, token.text);
    const asTaster = findKey(tasters, token.text);
    if (asCrop !== undefined) crop = asCrop;
    else if (ripeness !== undefined) sample['ripeness'] = ripeness;
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
  const known = [...cropWords(ledger), ...RIPENESS, ...traits, ...tasters.keys()];
  takeFields(reading, 'taste', TASTE_FIELDS, sample, loose, known);
  if (Object.keys(scores).length > 0 && taster === undefined) {
    taster = soleTaster(reading, afterTree);
    if (taster === undefined) return [];
  }
  const settled = settleCrop(reading, crop ?? servedCrop(reading, tree), tree);
  if (tree === undefined || settled === undefined) return [];
  const label = String(sample['as'] ?? tree.id);
  const samples = [{ tree: tree.id, crop: settled, ...sample }];
  if (taster === undefined) return [made('tastings', reading, { samples })];
  return [made('tastings', reading, { samples, scores: { [taster]: { [label]: scores } } })];
}

function takeScore(
  reading: LineReading,
  word: Token,
  trait: string,
  scores: Record<string, number>,
): void {
  const { low, high } = reading.ledger.trial.scale;
  const value = takeNumber(reading, word);
  if (value === undefined || Number.isNaN(value)) return;
  if (value < low || value > high) {
    slip(reading, word, `${trait} is ${value}, but the scale runs from ${low} to ${high}`);
  } else if (scores[trait] !== undefined) {
    slip(reading, word, `${trait} is said twice`, 'keep the one that is meant');
  } else scores[trait] = value;
}

/** The taster where none was named: the only one of the ledger, or asked about. */
function soleTaster(reading: LineReading, after: Token | undefined): string | undefined {
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

/** `order early mara G3 > Y1 = P2 > P4`, best first; `=` ties its neighbours. */
export function readOrder(reading: LineReading): readonly NewEntry[] {
  const { ledger } = reading;
  let crop: Crop | undefined;
  let taster: string | undefined;
  for (let token = peek(reading); token !== undefined; token = peek(reading)) {
    const next = peek(reading, 1);
    // What stands before a sign is a sample already.
    if (/[>=]/.test(token.text) || (next !== undefined && /^[>=]/.test(next.text))) break;
    const asCrop = findCrop(ledger, token.text);
    const asTaster = findKey(ledger.trial.tasters, token.text);
    if (asCrop !== undefined) crop = asCrop;
    else if (asTaster.kind === 'one' && taster === undefined) taster = asTaster.thing;
    else if (taster === undefined && next !== undefined) {
      const nearest = asTaster.kind === 'none' ? asTaster.nearest : undefined;
      slip(reading, token, `${token.text} is neither a crop nor a taster`, meant(nearest));
    } else break;
    take(reading);
  }
  if (taster === undefined && reading.slips.length === 0) {
    taster = soleTaster(reading, reading.tokens[reading.next - 1]);
  }
  const ranks = takeRanks(reading);
  const samples = new Map<string, Values>();
  const order = ranks.map((rank) => {
    const labels = rank.flatMap((token) => {
      const found = sampleOf(reading, token, crop);
      if (found === undefined) return [];
      if (samples.has(found.label)) slip(reading, token, `${found.label} is in the order twice`);
      samples.set(found.label, found.sample);
      return [found.label];
    });
    const [only, ...ties] = labels;
    return only !== undefined && ties.length === 0 ? only : labels;
  });
  if (samples.size < 2 && reading.slips.length === 0 && reading.questions.length === 0) {
    slip(
      reading,
      lineEndToken(reading),
      'an order needs two samples or more',
      'as in G3 > Y1 = P2',
    );
  }
  if (taster === undefined) return [];
  return [
    made('tastings', reading, { samples: [...samples.values()], order: { [taster]: order } }),
  ];
}

function takeRanks(reading: LineReading): readonly (readonly Token[])[] {
  const words: Token[] = [];
  for (let token = take(reading); token !== undefined; token = take(reading)) {
    words.push(...cutAtSigns(token));
  }
  const ranks: Token[][] = [[]];
  let sign = '';
  let before: Token | undefined;
  for (const word of words) {
    if (word.text === '>' || word.text === '=') {
      if (sign !== '' || before === undefined) slip(reading, word, 'a sample is missing here');
      sign = word.text;
      if (sign === '>') ranks.push([]);
    } else {
      if (before !== undefined && sign === '') {
        slip(
          reading,
          word,
          `between ${before.text} and ${word.text} is no sign`,
          'put > or = there',
        );
      }
      ranks.at(-1)?.push(word);
      before = word;
      sign = '';
    }
  }
  if (sign !== '') slip(reading, lineEndToken(reading), 'a sample is missing at the end');
  return ranks.filter((rank) => rank.length > 0);
}

/** A sample by the label it was served under on that day, or else by its tree. */
function sampleOf(
  reading: LineReading,
  token: Token,
  crop: Crop | undefined,
): { readonly label: string; readonly sample: Values } | undefined {
  const byLabel = served(reading).filter(
    (one) => one.label === token.text && (crop === undefined || one.crop === crop),
  );
  const [only] = byLabel;
  if (only !== undefined && byLabel.length === 1) {
    const { label, tree, crop } = only;
    return { label, sample: label === tree ? { tree, crop } : { tree, crop, as: label } };
  }
  const tree = treeOf(reading, token);
  const word = reading.tokens.find(({ text }) => text.toLowerCase() === 'order');
  const settled = settleCrop(reading, crop ?? servedCrop(reading, tree), tree, word);
  if (tree === undefined || settled === undefined) return undefined;
  return { label: tree.id, sample: { tree: tree.id, crop: settled } };
}

interface Served {
  readonly label: string;
  readonly tree: string;
  readonly crop: Crop;
}

/** The samples of the day, written down or typed before. */
function served({ ledger, before, date }: LineReading): readonly Served[] {
  return [...servedInLedger(ledger, date), ...servedBefore(ledger, before, date)].filter(
    (one, index, all) => all.findIndex((other) => same(one, other)) === index,
  );
}

function same(a: Served, b: Served): boolean {
  return a.label === b.label && a.tree === b.tree && a.crop === b.crop;
}

function servedInLedger(ledger: Ledger, date: IsoDate): readonly Served[] {
  return ledger.seasons
    .flatMap((season) => season.tastings)
    .filter((tasting) => tasting.on === date)
    .flatMap((tasting) => tasting.samples)
    .map(({ label, tree, crop }) => ({ label, tree: tree.id, crop }));
}

function servedBefore(
  ledger: Ledger,
  before: readonly NewEntry[],
  date: IsoDate,
): readonly Served[] {
  return before.flatMap((one) =>
    one.section !== 'tastings' || one.entry.on !== date
      ? []
      : one.entry.samples.flatMap((sample): Served[] => {
          const crop = findCrop(ledger, String(sample.crop));
          const tree = String(sample.tree);
          return crop === undefined ? [] : [{ label: String(sample.as ?? tree), tree, crop }];
        }),
  );
}

/** The crop under which a tree was served that day, if it was only one. */
function servedCrop(reading: LineReading, tree: Tree | undefined): Crop | undefined {
  if (tree === undefined) return undefined;
  const crops = new Set(
    served(reading)
      .filter((one) => one.tree === tree.id)
      .map((one) => one.crop),
  );
  const [only, ...others] = crops;
  return others.length === 0 ? only : undefined;
}
