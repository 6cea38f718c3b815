import * as z from 'zod/mini';
import type { FieldEvent } from '../model/entries.ts';
import { EVENTS } from './event-kinds.ts';
import {
  DAY_NAMES,
  day,
  type Field,
  type Fields,
  field,
  optional,
  remarks,
  tableCell,
} from './field.ts';
import { type Kind, type Said, type ShapeOf, shapeOf } from './kind.ts';
import { containerText } from './tree.ts';
import { eitherOf } from './values.ts';

const MOVED_TO = { key: 'movedTo', about: 'Where a tree moved to.' };
const POT_VOLUME = { key: 'potVolume', about: 'Size of the new pot.' };

export type EventWord = keyof typeof EVENTS;
export const EVENT_WORDS = Object.keys(EVENTS) as readonly EventWord[];
const KINDS = eitherOf(EVENT_WORDS);

const on = day('The day.', DAY_NAMES);
const kind = field(
  `${KINDS}.`,
  z.enum(EVENT_WORDS),
  { kind: 'choice', of: EVENT_WORDS },
  { also: ['event', 'what', 'what was done'], column: { about: `${KINDS}.` } },
);

/** Programs load the columns of events by their places, so what came later stands behind. */
const ORDER = [
  ...['on', 'tree', 'site', 'kind'],
  ...['product', 'wait_days', 'after', 'container', 'low', 'dieback', 'fruit'],
];

/** Everything that an event of some kind says: where, then what. */
const fields: Fields = { ...inOrder({ on, kind, ...saidByKinds() }), ...remarks };

function saidByKinds(): Fields {
  const said = Object.values(EVENTS).flatMap((one) => Object.entries<Field>(one.fields));
  return Object.fromEntries(said.map(([key, one]) => [key, optional(one)]));
}

function inOrder(said: Fields): Fields {
  const place = (key: string) => (ORDER.includes(key) ? ORDER.indexOf(key) : ORDER.length);
  return Object.fromEntries(Object.entries(said).sort(([a], [b]) => place(a) - place(b)));
}

/** A table may say in columns of their own where a tree moved, how big its pot is, and what it was done to. */
const row = {
  ...fields,
  moved_to: tableCell({ kind: 'site' }, { also: ['moved to'], column: MOVED_TO }),
  pot_volume: tableCell(
    { kind: 'amount', dimension: 'volume' },
    { also: ['pot size'], column: POT_VOLUME },
  ),
  target: tableCell({ kind: 'choice', of: ['tree', 'site', 'trial'] }),
};

/** What was done or happened to a tree, a site or everything. */
export const event = {
  section: 'events',
  one: 'event',
  many: 'events',
  hint: 'What was done or happened to a tree, a site or everything.',
  fields,
  row,
  schema: z.discriminatedUnion('kind', formsOf(EVENTS), {
    error: ({ code }) => (code === 'invalid_union' ? KINDS : 'a map: { on: ..., kind: ... }'),
  }),
  said: (one: FieldEvent): Said => ({
    ...one,
    ...(one.kind === 'told' ? { ...one.says, kind: one.word } : {}),
    ...(one.kind === 'spray' ? { wait_days: one.waitDays } : {}),
    ...(one.kind === 'repot' ? { container: containerText(one.container) } : {}),
  }),
} as const satisfies Kind;

/** The keys of a move in their order: which tree, what, and whereto. */
export const MOVE_KEYS = ['on', 'tree', 'kind', 'site', ...Object.keys(remarks)];

type FormOf<Word extends EventWord> = z.ZodMiniObject<
  ShapeOf<{ on: typeof on } & typeof remarks> & {
    kind: z.ZodMiniLiteral<Word>;
  } & ShapeOf<(typeof EVENTS)[Word]['fields']>,
  z.core.$strict
>;
type Form = { [Word in EventWord]: FormOf<Word> }[EventWord];

function formsOf(events: typeof EVENTS): [Form, ...Form[]] {
  const forms = Object.entries(events).map(([word, { fields: said }]) =>
    z.strictObject({ ...shapeOf({ on, ...remarks }), kind: z.literal(word), ...shapeOf(said) }),
  );
  return forms as unknown as [Form, ...Form[]];
}
