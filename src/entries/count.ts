import {
  atLeastOne,
  crop,
  DAY_NAMES,
  day,
  entryTree,
  FRUIT_NAMES,
  optional,
  remarks,
  whole,
} from './field.ts';
import { type Kind, mapOf } from './kind.ts';

const fields = {
  on: day('The day of the count.', DAY_NAMES),
  tree: entryTree,
  crop,
  fruit: whole('Fruit hanging; 0 if there is none.', {
    ...FRUIT_NAMES,
    column: { about: 'Fruit hanging.' },
  }),
  branches: optional(
    atLeastOne('Branches that could bear, for fruit per branch.', {
      words: ['on', 'branches'],
      also: ['branch', 'number of branches', 'shoots'],
      column: { about: 'Branches, where counted.' },
    }),
  ),
  ...remarks,
};

/** What hangs on a tree on a day. */
export const count = {
  section: 'counts',
  one: 'count',
  many: 'counts',
  table: 'What hung on a tree on a day, before anything was picked that day.',
  hint: 'What hangs on a tree on a day, before anything is picked that day.',
  fields,
  schema: mapOf(fields, 'a map: { on: ..., tree: ..., crop: ..., fruit: ... }'),
} as const satisfies Kind;
