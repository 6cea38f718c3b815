import type * as z from 'zod/mini';
import type { Container, Tree } from '../model/collection.ts';
import { field, optional, remark, siteKey, text } from './field.ts';
import { mapOf, type Said } from './kind.ts';
import { container, partialDate, reference } from './values.ts';

const AS_KNOWN = 'as it is known: YYYY-MM-DD, YYYY-MM or YYYY.';

/** A day that may be known to the month or the year alone. */
function since(hint: string, also: readonly string[], about: string) {
  const column = { about: `${about}, ${AS_KNOWN}` };
  return optional(field(hint, partialDate, { kind: 'partial date' }, { also, column }));
}

const fields = {
  cultivar: field(
    'The key of its cultivar in cultivars.yaml.',
    reference('the key of a cultivar'),
    { kind: 'cultivar' },
    { also: ['variety', 'sort'], column: { about: 'Cultivar of the tree.' } },
  ),
  received_as: optional(
    text('The name on the label it came with, exactly.', {
      words: ['as', 'labelled'],
      also: ['label'],
      column: { key: 'receivedAs', about: 'Name on the label it came with.' },
    }),
  ),
  from: optional(
    text('Who it came from.', {
      also: ['source', 'received from', 'came from'],
      column: { key: 'receivedFrom', about: 'Who it came from.' },
    }),
  ),
  received: since(
    'When it came: a day, a month or a year.',
    ['got', 'date received'],
    'When it came',
  ),
  planted: since(
    'When it was planted where it first stood: a day, a month or a year.',
    ['date planted', 'year planted', 'planted on'],
    'When it was planted',
  ),
  site: {
    ...siteKey('The key of the site where it stood first; later moves are events of a season.', {
      words: ['at'],
      also: ['where', 'place', 'stands'],
    }),
    column: { about: 'Where it stood first.' },
  },
  container: optional(
    field(
      'ground, or the size of the pot, as "20 L".',
      container,
      { kind: 'text' },
      { words: ['in'], also: ['pot', 'pot size'] },
    ),
  ),
  rootstock: optional(
    text('What it is grafted on, if it is.', { column: { about: 'What it is grafted on.' } }),
  ),
  removed: since(
    'When it was taken out or died: a day, a month or a year.',
    ['died', 'taken out'],
    'When it was taken out',
  ),
  ...remark,
};

/** Each tree, by its id. */
export const tree = {
  file: 'trees',
  title: 'pomary: trees.yaml',
  hint: 'A tree, by the id on its label, as G3. It keeps the id for life.',
  expected: 'a map from a tree id to { cultivar, site }',
  fields,
  schema: mapOf(fields, 'a map: { cultivar: ..., site: ... }'),
  said: ({ receivedAs, ...rest }: Tree): Said => ({
    ...rest,
    cultivar: rest.cultivar.key,
    received_as: receivedAs,
    received: rest.received?.text,
    planted: rest.planted?.text,
    container: containerText(rest.container),
    removed: rest.removed?.text,
  }),
} as const;

export type RawTree = z.infer<typeof tree.schema>;

/** What a tree stands in, as files say it. */
export function containerText(pot: Container | undefined): string | undefined {
  return pot?.kind === 'pot' ? `${pot.litres} L` : pot?.kind;
}
