import { didYouMean } from '../../diagnostics/did-you-mean.ts';
import { EVENT_WORDS, EVENTS, type EventWord } from '../../entries/event.ts';
import { parseQuantity } from '../../model/quantity.ts';
import { WHOLE_TRIAL } from '../../model/touches.ts';
import type { NewEntry } from '../new-entry.ts';
import { looksNumeric } from '../typed-number.ts';
import { type Field, takeFields, typedFields, type Values } from './fields.ts';
import {
  type LineReading,
  lineEndToken,
  meant,
  peek,
  slip,
  take,
  takeAmount,
  takeTree,
  takeWhole,
} from './line-reading.ts';
import { findSite, findTree } from './names.ts';
import { made } from './statements.ts';
import type { Token } from './tokens.ts';

/** The fields of each kind of event; a target, a product and a pot have no word before them. */
export const EVENT_FIELDS = Object.fromEntries(
  EVENT_WORDS.map((word) => [word, typedFields(EVENTS[word], ['site', 'product', 'container'])]),
) as Readonly<Record<EventWord, readonly Field[]>>;

/** `move P2 yard`, `spray yard soap wait 3`, `water yard`, `repot P2 30 L`, `frost low -2` ... */
export function readEvent(reading: LineReading, kind: EventWord): readonly NewEntry[] {
  switch (kind) {
    case 'move':
      return readMove(reading);
    case 'repot':
      return readRepot(reading);
    case 'thin':
      return readThin(reading);
    case 'winter-damage': {
      const tree = takeTree(reading, kind);
      const values: Values = { kind };
      takeFields(reading, kind, EVENT_FIELDS[kind], values, () => false);
      return tree === undefined ? [] : [made('events', reading, { tree: tree.id, ...values })];
    }
    default:
      return readUpon(reading, kind);
  }
}

function readMove(reading: LineReading): readonly NewEntry[] {
  const tree = takeTree(reading, 'move');
  if (peek(reading, 1) !== undefined) passOver(reading, 'to');
  const token = take(reading);
  const { sites } = reading.ledger.trial;
  const site = token && findSite(reading.ledger, token.text);
  const known = [...sites.keys()].join(', ');
  if (token === undefined || site === undefined) {
    slip(reading, lineEndToken(reading), 'move needs the site the tree goes to', `sites: ${known}`);
  } else if (site.kind !== 'one') {
    const nearest = site.kind === 'none' ? site.nearest : undefined;
    slip(
      reading,
      token,
      `${token.text} is no site of this ledger`,
      meant(nearest, `sites: ${known}`),
    );
  }
  const values: Values = {};
  takeFields(reading, 'move', EVENT_FIELDS.move, values, () => false);
  if (tree === undefined || site?.kind !== 'one') return [];
  return [made('events', reading, { tree: tree.id, kind: 'move', site: site.thing, ...values })];
}

/** `move P2 to yard`, `repot P2 into 30 L` */
function passOver(reading: LineReading, word: string): void {
  const next = peek(reading);
  if (next !== undefined && !next.isQuoted && next.text.toLowerCase() === word) take(reading);
}

function readRepot(reading: LineReading): readonly NewEntry[] {
  const tree = takeTree(reading, 'repot');
  passOver(reading, 'into');
  const values: Values = { kind: 'repot' };
  const { units } = reading.ledger.trial;
  takeFields(
    reading,
    'repot',
    EVENT_FIELDS.repot,
    values,
    (token) => {
      if (token.text.toLowerCase() === 'ground') {
        take(reading);
        values['container'] = 'ground';
        return true;
      }
      if (!looksNumeric(token.text)) return false;
      const size = takeAmount(reading, { ...token, text: 'the size of a pot' }, 'volume');
      // A pot is written with its unit, so that nobody has to know which is meant.
      if (typeof size === 'number') {
        const litres = parseQuantity(size, 'volume', units);
        values['container'] = units === 'metric' ? `${litres} L` : `${size} UK gal`;
      } else if (size !== undefined) values['container'] = size;
      return true;
    },
    ['ground'],
  );
  return tree === undefined ? [] : [made('events', reading, { tree: tree.id, ...values })];
}

/** `thin G3 12` */
function readThin(reading: LineReading): readonly NewEntry[] {
  const tree = takeTree(reading, 'thin');
  const values: Values = { kind: 'thin' };
  let refused = false;
  takeFields(reading, 'thin', EVENT_FIELDS.thin, values, (token) => {
    if (!looksNumeric(token.text)) return false;
    const before = reading.next;
    const fruit = takeWhole(reading, { ...token, text: 'thin' });
    if (reading.next === before) take(reading);
    if (fruit === undefined) refused = true;
    else if (values['fruit'] !== undefined) {
      slip(reading, token, `a second number of fruit: ${token.text}`);
    } else values['fruit'] = fruit;
    return true;
  });
  if (values['fruit'] === undefined && !refused) {
    slip(reading, lineEndToken(reading), 'thin needs the number of fruit', 'as in thin G3 12');
  }
  return tree === undefined ? [] : [made('events', reading, { tree: tree.id, ...values })];
}

/** Events upon a tree, all trees of a site, or the whole trial; what is left over is the product. */
function readUpon(
  reading: LineReading,
  kind: Exclude<EventWord, 'move' | 'thin' | 'repot' | 'winter-damage'>,
): readonly NewEntry[] {
  const target = takeTarget(reading, kind);
  const values: Values = { ...target, kind };
  const product: Token[] = [];
  const takesProduct = kind !== 'frost';
  takeFields(reading, kind, EVENT_FIELDS[kind], values, (token) => {
    if (kind === 'frost' && looksNumeric(token.text) && values['low'] === undefined) {
      // A lone number of a frost is how low it went.
      const low = takeAmount(reading, { ...token, text: 'frost' }, 'temperature');
      if (low !== undefined) values['low'] = low;
      return true;
    }
    if (!takesProduct) return false;
    take(reading);
    product.push(token);
    return true;
  });
  if (product.length > 0) values['product'] = product.map(({ text }) => text).join(' ');
  if (kind === 'spray') {
    if (product.length === 0) slip(reading, lineEndToken(reading), 'spray needs the product');
    if (values['wait_days'] === undefined && reading.slips.length === 0) {
      const advice = 'the days on the label before fruit may be eaten: wait 3, or wait 0';
      slip(reading, lineEndToken(reading), 'spray needs the waiting time', advice);
    }
  }
  return target === undefined ? [] : [made('events', reading, values)];
}

/** The tree or site that an event names first; undefined with a question where it is a near miss. */
function takeTarget(
  reading: LineReading,
  kind: EventWord,
): { readonly tree?: string; readonly site?: string } | undefined {
  const token = peek(reading);
  const { ledger } = reading;
  if (token === undefined) return kind === 'spray' ? needsTarget(reading) : {};
  const text = token.text.toLowerCase();
  const fields = [...EVENT_FIELDS[kind].map(({ word }) => word), 'note', 'photo'];
  if (!token.isQuoted && fields.includes(text))
    return kind === 'spray' ? needsTarget(reading, token) : {};
  if (text === WHOLE_TRIAL) {
    take(reading);
    return kind === 'spray' && !ledger.trial.sites.has(WHOLE_TRIAL) ? { site: WHOLE_TRIAL } : {};
  }
  const [site, tree] = [findSite(ledger, token.text), findTree(ledger, token.text)];
  if (site.kind === 'one') {
    if (tree.kind === 'one') askOfTarget(reading, token, site.thing, tree.thing.id);
    take(reading);
    return { site: site.thing };
  }
  if (site.kind === 'several') {
    const { start, end } = token;
    reading.questions.push({
      start,
      end,
      message: `${token.text} may be ${site.things.length} sites; which one?`,
      answers: site.things.map((key) => ({
        label: ledger.trial.sites.get(key)?.name ?? key,
        text: key,
      })),
    });
    take(reading);
    return {};
  }
  if (tree.kind === 'one') {
    take(reading);
    return { tree: tree.thing.id };
  }
  const { sites } = ledger.trial;
  const names = [
    ...[...sites.values()].flatMap(({ key, name }) => [key, name]),
    ...ledger.trees.keys(),
  ];
  const nearest = didYouMean(token.text, names);
  if (nearest === undefined) return kind === 'spray' ? needsTarget(reading, token) : {};
  const { start, end } = token;
  const trial = { label: `${token.text}, for the whole trial`, text: `all ${token.text}` };
  reading.questions.push({
    start,
    end,
    message: `${token.text} is neither a tree nor a site; did you mean ${nearest}?`,
    answers:
      kind === 'frost'
        ? [{ label: nearest, text: nearest }]
        : [{ label: nearest, text: nearest }, trial],
  });
  take(reading);
  return {};
}

/** One word for a tree and for the site of others: which of them was fed nobody may guess. */
function askOfTarget(reading: LineReading, token: Token, site: string, tree: string): void {
  const { ledger } = reading;
  const name = ledger.trial.sites.get(site)?.name ?? site;
  const ofSite = [site, name].find((one) => findTree(ledger, one).kind === 'none');
  const ofTree = findSite(ledger, tree).kind === 'none' ? tree : undefined;
  const answers = [
    ...(ofSite === undefined ? [] : [{ label: `all trees at ${name}`, text: `"${ofSite}"` }]),
    ...(ofTree === undefined ? [] : [{ label: `the tree ${tree}`, text: ofTree }]),
  ];
  const message = `${token.text} is a site and a tree`;
  if (answers.length < 2) {
    slip(reading, token, message, 'give one of them another name in the files of the ledger');
    return;
  }
  const { start, end } = token;
  reading.questions.push({ start, end, message: `${message}; which one?`, answers });
}

/** The waiting time of a spray is kept for the trees it names, so it has to name them. */
function needsTarget(reading: LineReading, token?: Token): undefined {
  const { sites } = reading.ledger.trial;
  const named = [...sites.values()].map(({ key, name }) =>
    key === name ? key : `${key} (${name})`,
  );
  const message = 'spray needs a tree, a site or all';
  slip(
    reading,
    token ?? lineEndToken(reading),
    token === undefined ? message : `${message} first, and ${token.text} is none of them`,
    `sites: ${named.join(', ')}; all is every tree, as in spray all soap wait 3`,
  );
  return undefined;
}
