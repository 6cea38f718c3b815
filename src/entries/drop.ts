import { crop, DAY_NAMES, day, entryTree, FRUIT_NAMES, remarks, whole } from './field.ts';
import { type Kind, mapOf } from './kind.ts';

const fields = {
  on: day('The day it was found.', DAY_NAMES),
  tree: entryTree,
  crop,
  fruit: whole('Fruit lost.', {
    also: [...FRUIT_NAMES.also, 'dropped', 'fallen'],
    column: { about: 'Fruit lost.' },
  }),
  ...remarks,
};

/** Fruit lost before picking. */
export const drop = {
  section: 'drops',
  one: 'drop',
  many: 'drops',
  addsUp: true,
  hint: 'Fruit lost before it could be picked.',
  fields,
  schema: mapOf(fields, 'a map: { on: ..., tree: ..., crop: ..., fruit: ... }'),
} as const satisfies Kind;
