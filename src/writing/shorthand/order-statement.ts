import type { Crop } from '../../model/ledger.ts';
import type { NewEntry } from '../new-entry.ts';
import type { Values } from './fields.ts';
import { type LineReading, lineEndToken, meant, peek, slip, take } from './line-reading.ts';
import { findCrop, findKey } from './names.ts';
import { namedBy, plateOf } from './plate.ts';
import { made } from './statements.ts';
import { soleTaster } from './taste-statements.ts';
import { cutAtSigns, type Token } from './tokens.ts';

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
      const word = reading.tokens.find(({ text }) => text.toLowerCase() === 'order');
      const found = plateOf(reading, namedBy(reading, token, crop), crop, word);
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

function withoutComma(token: Token): Token {
  return token.isQuoted ? token : { ...token, text: token.text.replace(/,$/, '') };
}

function takeRanks(reading: LineReading): readonly (readonly Token[])[] {
  const words: Token[] = [];
  for (let token = take(reading); token !== undefined; token = take(reading)) {
    words.push(...cutAtSigns(withoutComma(token)));
  }
  const ranks: Token[][] = [[]];
  let sign = '';
  let before: Token | undefined;
  let unparted: Token | undefined;
  for (const word of words) {
    if (word.text === '>' || word.text === '=') {
      if (sign !== '' || before === undefined) slip(reading, word, 'a sample is missing here');
      sign = word.text;
      if (sign === '>') ranks.push([]);
    } else {
      if (before !== undefined && sign === '' && unparted === undefined) {
        unparted = word;
        const advice = 'put > where the first is better, = where they are equal: 417 > 862 = 153';
        const between = `between ${before.text} and ${word.text}`;
        slip(reading, word, `there is no > or = ${between}`, advice);
      }
      ranks.at(-1)?.push(word);
      before = word;
      sign = '';
    }
  }
  if (sign !== '') slip(reading, lineEndToken(reading), 'a sample is missing at the end');
  return ranks.filter((rank) => rank.length > 0);
}
