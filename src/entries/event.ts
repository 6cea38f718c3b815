import * as z from 'zod/mini';
import type { FieldEvent } from '../model/entries.ts';
import {
  amount,
  cell,
  DAY_NAMES,
  day,
  type Field,
  type Fields,
  field,
  tree as ofEntry,
  optional,
  remarks,
  siteKey,
  text,
  treeId,
  whole,
} from './field.ts';
import { type Kind, type Said, type ShapeOf, shapeOf } from './kind.ts';
import { containerText } from './tree.ts';
import { listed, name, container as size, wholeNumber } from './values.ts';

const MOVED_TO = { key: 'movedTo', about: 'Where a tree moved to.' };
const POT_VOLUME = { key: 'potVolume', about: 'Size of the new pot.' };

const tree = treeId('The tree, if it was one tree.', { also: ofEntry.also });
const site = siteKey(
  'The site, if it was all trees there, or all for the whole trial; of a move, where the tree goes.',
  { also: ['where', 'place'] },
);
const product = text('What was given or sprayed.', {
  also: ['with', 'spray'],
  column: { about: 'What was given or sprayed.' },
});
const waitDays = field(
  'Days to wait before fruit may be picked, from the label; 0 if none.',
  wholeNumber.check(z.lte(3660, { error: 'a number of days' })),
  { kind: 'whole' },
  {
    words: ['wait'],
    also: ['wait days', 'wait', 'days to wait'],
    column: { key: 'waitDays', about: 'Days to wait before picking.', unit: 'd' },
  },
);
const after = field(
  'picks, if what was picked and tasted on the day of the spray was picked before it.',
  z.literal('picks', { error: 'picks' }),
  { kind: 'choice', of: ['picks'] },
  { column: { about: 'picks where the fruit of that day was picked before the spray.' } },
);
const container = field(
  'ground, or the size of the new pot, as "35 L".',
  size,
  { kind: 'text' },
  { also: ['pot'] },
);
const low = amount('The lowest temperature.', 'temperature', 'the lowest temperature', {
  also: ['lowest', 'lowest temperature', 'temperature'],
  column: { about: 'Lowest temperature of a frost.' },
});
const dieback = amount('Length of wood that died back.', 'height', 'the length that died back', {
  also: ['died back'],
  column: { about: 'Wood that died back.' },
});

const upon = { tree: optional(tree), site: optional(site) };

const fruit = whole('Fruit taken off on purpose.', {
  also: ['fruit taken off', 'thinned', 'fruit thinned'],
  column: { about: 'Fruit taken off on purpose.' },
});

/** What each kind of event says besides its day and its remarks. */
export const EVENTS = {
  move: { tree, site },
  water: { ...upon, product: optional(product) },
  feed: { ...upon, product: optional(product) },
  prune: { ...upon, product: optional(product) },
  thin: { tree, fruit },
  repot: { tree, container: optional(container) },
  spray: {
    ...upon,
    product: { ...product, schema: name },
    wait_days: waitDays,
    after: optional(after),
  },
  frost: { ...upon, low: optional(low) },
  'winter-damage': { tree, dieback: optional(dieback) },
} as const;

export type EventWord = keyof typeof EVENTS;
export const EVENT_WORDS = Object.keys(EVENTS) as readonly EventWord[];
const KINDS = listed(EVENT_WORDS);

const on = day('The day.', DAY_NAMES);
const kind = field(
  `${KINDS}.`,
  z.enum(EVENT_WORDS),
  { kind: 'choice', of: EVENT_WORDS },
  { also: ['event', 'what', 'what was done'], column: { about: `${KINDS}.` } },
);

/** Everything that an event of some kind says: where, then what. */
const fields = {
  on,
  tree: optional(tree),
  site: optional(site),
  kind,
  product: optional(product),
  wait_days: optional(waitDays),
  after: optional(after),
  container: optional(container),
  low: optional(low),
  dieback: optional(dieback),
  fruit: optional(fruit),
  ...remarks,
} satisfies Fields & Record<OwnKey, Field>;

type OwnKey = { [Word in EventWord]: keyof (typeof EVENTS)[Word] }[EventWord];

/** A table may say in columns of their own where a tree moved, how big its pot is, and what it was done to. */
const row = {
  ...fields,
  moved_to: cell({ kind: 'site' }, { also: ['moved to'], column: MOVED_TO }),
  pot_volume: cell(
    { kind: 'amount', dimension: 'volume' },
    { also: ['pot size'], column: POT_VOLUME },
  ),
  target: cell({ kind: 'choice', of: ['tree', 'site', 'trial'] }),
};

/** What was done or happened to a tree, a site or everything. */
export const event = {
  section: 'events',
  many: 'events',
  hint: 'What was done or happened to a tree, a site or everything.',
  fields,
  row,
  schema: z.discriminatedUnion('kind', formsOf(EVENTS), {
    error: ({ code }) => (code === 'invalid_union' ? KINDS : 'a map: { on: ..., kind: ... }'),
  }),
  said: (one: FieldEvent): Said => ({
    ...one,
    ...(one.kind === 'spray' ? { wait_days: one.waitDays } : {}),
    ...(one.kind === 'repot' ? { container: containerText(one.container) } : {}),
  }),
} as const satisfies Kind;

/** The keys of a move in their order: which tree, what, and whereto. */
export const MOVE_KEYS = ['on', 'tree', 'kind', 'site', ...Object.keys(remarks)];

type FormOf<Word extends EventWord> = z.ZodMiniObject<
  ShapeOf<{ on: typeof on } & typeof remarks> & {
    kind: z.ZodMiniLiteral<Word>;
  } & ShapeOf<(typeof EVENTS)[Word]>,
  z.core.$strict
>;
type Form = { [Word in EventWord]: FormOf<Word> }[EventWord];

function formsOf(events: typeof EVENTS): [Form, ...Form[]] {
  const forms = Object.entries(events).map(([word, own]) =>
    z.strictObject({ ...shapeOf({ on, ...remarks }), kind: z.literal(word), ...shapeOf(own) }),
  );
  return forms as unknown as [Form, ...Form[]];
}
