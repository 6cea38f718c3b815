import * as z from 'zod/mini';
import {
  amount,
  type Fields,
  field,
  entryTree as ofEntry,
  optional,
  siteKey,
  text,
  treeId,
  whole,
} from './field.ts';
import type { LineHelp, Said } from './kind.ts';
import { name, container as size, wholeNumber } from './values.ts';

/** A kind of event: all that is particular to it. */
export interface EventKind {
  /** What it says besides its day and its remarks; a tree that must be there is all it touches. */
  readonly fields: Fields;
  /** How it is typed, its own word first. */
  readonly line: LineHelp;
  /** Key of the field that may stand on the line without a word before it. */
  readonly bare?: string;
  /** Two equal ones of a day may be two, as fruit taken off twice. */
  readonly addsUp?: true;
  /** What a card calls several of them, where it tells of one tree. */
  readonly onCard?: string;
  /** What befell the tree, on its card, if not the word of the kind with what it says. */
  befell?(said: Said): string;
}

const tree = treeId('The tree, if it was one tree.', { also: ofEntry.also });
const site = siteKey(
  'The site, if it was all trees there, or all for the whole trial; of a move, where the tree goes.',
  { words: [], also: ['where', 'place'] },
);
const upon = { tree: optional(tree), site: optional(site) };

const product = text('What was given or sprayed.', {
  words: [],
  also: ['with', 'spray'],
  column: { about: 'What was given or sprayed.' },
  told: String,
});
const waitDays = field(
  'Days to wait before fruit may be picked, from the label; 0 if none.',
  wholeNumber.check(z.lte(3660, { error: 'a number of days' })),
  { kind: 'whole' },
  {
    words: ['wait'],
    called: 'waiting time',
    also: ['wait days', 'wait', 'days to wait'],
    column: { key: 'waitDays', about: 'Days to wait before picking.', unit: 'd' },
    told: (days) => `wait ${days} ${days === '1' ? 'day' : 'days'}`,
  },
);
const after = field(
  'picks, if what was picked and tasted on the day of the spray was picked before it.',
  z.literal('picks', { error: 'picks' }),
  { kind: 'choice', of: ['picks'] },
  {
    column: { about: 'picks where the fruit of that day was picked before the spray.' },
    told: () => 'after the picks of that day',
  },
);
const container = field(
  'ground, or the size of the new pot, as "35 L".',
  size,
  { kind: 'text' },
  { words: [], also: ['pot'], told: (pot) => `into ${pot}` },
);
const low = amount('The lowest temperature.', 'temperature', 'the lowest temperature', {
  also: ['lowest', 'lowest temperature', 'temperature'],
  column: { about: 'Lowest temperature of a frost.' },
  told: (degrees) => `lowest ${degrees}`,
});
const dieback = amount('Length of wood that died back.', 'height', 'the length that died back', {
  also: ['died back'],
  column: { about: 'Wood that died back.' },
  told: (length) => `${length} died back`,
});
const fruit = whole('Fruit taken off on purpose.', {
  also: ['fruit taken off', 'thinned', 'fruit thinned'],
  called: 'number of fruit',
  column: { about: 'Fruit taken off on purpose.' },
  told: (number) => `${number} fruit taken off`,
});

/** Every kind of event by its word. */
export const EVENTS = {
  move: {
    fields: { tree, site },
    line: {
      pattern: 'move TREE SITE',
      example: 'move P2 yard',
      meaning: 'the tree stands there from that day',
    },
    onCard: 'moves',
  },
  water: {
    fields: { ...upon, product: optional(product) },
    line: { pattern: 'water [TREE or SITE]', example: 'water yard', meaning: 'watering' },
    bare: 'product',
  },
  feed: {
    fields: { ...upon, product: optional(product) },
    line: {
      pattern: 'feed [TREE or SITE] [PRODUCT]',
      example: 'feed yard seaweed',
      meaning: 'feeding',
    },
    bare: 'product',
  },
  prune: {
    fields: { ...upon, product: optional(product) },
    line: { pattern: 'prune [TREE or SITE]', example: 'prune G3', meaning: 'pruning' },
    bare: 'product',
  },
  thin: {
    fields: { tree, fruit },
    line: { pattern: 'thin TREE N', example: 'thin G3 12', meaning: 'fruit taken off on purpose' },
    bare: 'fruit',
    addsUp: true,
    onCard: 'thinning',
    befell: (said) => `${said['fruit']} fruit thinned`,
  },
  repot: {
    fields: { tree, container: optional(container) },
    line: { pattern: 'repot TREE SIZE', example: 'repot P2 30 L', meaning: 'a new pot, or ground' },
    bare: 'container',
    onCard: 'pots',
  },
  spray: {
    fields: {
      ...upon,
      product: { ...product, schema: name },
      wait_days: waitDays,
      after: optional(after),
    },
    line: {
      pattern: 'spray TREE, SITE or all PRODUCT wait DAYS',
      example: 'spray yard soap wait 3',
      meaning:
        'with the waiting time of the label; after picks says that fruit of that day was picked before',
    },
    bare: 'product',
  },
  frost: {
    fields: { ...upon, low: optional(low) },
    line: {
      pattern: 'frost [SITE] N',
      example: 'frost -2',
      meaning: 'frost, with its lowest temperature',
    },
    bare: 'low',
  },
  'winter-damage': {
    fields: { tree, dieback: optional(dieback) },
    line: {
      pattern: 'winter-damage TREE dieback N',
      example: 'winter-damage G3 dieback 40',
      meaning: 'length of wood that died back',
    },
    onCard: 'winter damage',
  },
} as const satisfies Readonly<Record<string, EventKind>>;
