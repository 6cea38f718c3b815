import { didYouMean } from '../../diagnostics/did-you-mean.ts';
import { EVENT_WORDS, type EventWord } from '../../entries/event.ts';
import { EVENTS, type EventKind } from '../../entries/event-kinds.ts';
import { parseQuantity } from '../../model/quantity.ts';
import { WHOLE_TRIAL } from '../../model/touches.ts';
import type { NewEntry } from '../new-entry.ts';
import { looksNumeric } from '../typed-number.ts';
import { type TypedField, takeFields, typedFields, type Values } from './fields.ts';
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

/** The fields of each kind of event that have a word before them. */
export const EVENT_FIELDS = Object.fromEntries(
  EVENT_WORDS.map((word) => [word, typedFields(EVENTS[word].fields)]),
) as Readonly<Record<EventWord, readonly TypedField[]>>;

/** `move P2 yard`, `spray yard soap wait 3`, `water yard`, `repot P2 30 L`, `frost low -2` ... */
export function readEvent(reading: LineReading, kind: EventWord): readonly NewEntry[] {
  if (kind === 'move') return readMove(reading);
  return kind === 'repot' ? readRepot(reading) : readPlain(reading, kind);
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

/** Where, then what: the bare field of the kind, and fields behind their words. */
function readPlain(
  reading: LineReading,
  kind: Exclude<EventWord, 'move' | 'repot'>,
): readonly NewEntry[] {
  const { fields }: EventKind = EVENTS[kind];
  const place = fields['tree']?.isOptional ? takeTarget(reading, kind) : takeOne(reading, kind);
  const values: Values = { ...place, kind };
  let isRefused = false;
  takeFields(reading, kind, EVENT_FIELDS[kind], values, (token) => {
    const taken = takeBare(reading, kind, values, token);
    if (taken === 'refused') isRefused = true;
    return taken !== 'none';
  });
  slipOfNeeds(reading, kind, values, isRefused);
  return place === undefined ? [] : [made('events', reading, values)];
}

function takeOne(reading: LineReading, kind: EventWord): { readonly tree: string } | undefined {
  const tree = takeTree(reading, kind);
  return tree && { tree: tree.id };
}

/** Takes the field that may stand without a word: a lone number, or what no word before it takes. */
function takeBare(
  reading: LineReading,
  kind: EventWord,
  values: Values,
  token: Token,
): 'taken' | 'refused' | 'none' {
  const { fields, bare = '' }: EventKind = EVENTS[kind];
  const { holds, called = bare } = fields[bare] ?? {};
  const known = values[bare];
  switch (holds?.kind) {
    case 'text':
      take(reading);
      values[bare] = known === undefined ? token.text : `${known} ${token.text}`;
      return 'taken';
    case 'whole': {
      if (!looksNumeric(token.text)) return 'none';
      const number = takeWhole(reading, { ...token, text: kind }, holds.least);
      if (number === undefined) return 'refused';
      if (known === undefined) values[bare] = number;
      else slip(reading, token, `a second ${called}: ${token.text}`);
      return 'taken';
    }
    case 'amount': {
      if (!looksNumeric(token.text) || known !== undefined) return 'none';
      const amount = takeAmount(reading, { ...token, text: kind }, holds.dimension);
      if (amount === undefined) return 'refused';
      values[bare] = amount;
      return 'taken';
    }
    default:
      return 'none';
  }
}

const WAIT = 'the days on the label before fruit may be eaten: wait 3, or wait 0';

/** Says what an event of this kind cannot do without; of a number that was refused all is said. */
function slipOfNeeds(
  reading: LineReading,
  kind: EventWord,
  values: Values,
  isRefused: boolean,
): void {
  const { fields, bare, line }: EventKind = EVENTS[kind];
  for (const [key, { isOptional, called = key, holds }] of Object.entries(fields)) {
    if (isOptional || key === 'tree' || values[key] !== undefined) continue;
    if (key === bare && isRefused) continue;
    const isWait = key === 'wait_days';
    if (isWait && reading.slips.length > 0) continue;
    const example = holds.kind === 'text' ? '' : `as in ${line.example}`;
    const advice = isWait ? WAIT : example;
    slip(reading, lineEndToken(reading), `${kind} needs the ${called}`, advice);
  }
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
