import * as z from 'zod/mini';
import type { Defect } from '../model/entries.ts';
import {
  amount,
  choice,
  crop,
  DAY_NAMES,
  day,
  FRUIT_NAMES,
  field,
  optional,
  remarks,
  tree,
  whole,
} from './field.ts';
import { type Kind, mapOf } from './kind.ts';
import { quantity } from './values.ts';

/** A spoiled fruit is counted under one of these, its worst. */
const defects = {
  split: optional(
    whole('Fruit split, and nothing worse.', {
      also: ['splits', 'cracked', 'cracks', 'split fruit'],
    }),
  ),
  bird: optional(whole('Fruit pecked by birds.', { also: ['birds', 'bird damage', 'pecked'] })),
  insect: optional(
    whole('Fruit spoiled by insects.', {
      also: ['insects', 'insect damage', 'wasp', 'wasps', 'ants'],
    }),
  ),
  mould: optional(
    whole('Fruit mouldy or soured.', { also: ['mold', 'mouldy', 'moldy', 'rot', 'rotten'] }),
  ),
  unripe: optional(whole('Fruit picked before it was ripe.', { also: ['not ripe', 'green'] })),
} satisfies Record<Defect, unknown>;

const fields = {
  on: day('The day of the pick.', DAY_NAMES),
  tree,
  crop,
  fruit: optional(
    whole('Fruit picked; may be left out where every one of them is in weights.', FRUIT_NAMES),
  ),
  weights: optional(
    field(
      'The weights of single fruit, as [52.4, 47].',
      z.array(quantity('the weight of a fruit'), {
        error: 'a list of weights, for example [52.4, 47]',
      }),
      { kind: 'amount', dimension: 'weight', isList: true },
      {
        also: [
          ...['fruit weight', 'fruit weights', 'single weight', 'single weights'],
          ...['singleweights', 'each'],
        ],
      },
    ),
  ),
  weight: optional(
    amount(
      'The weight of all fruit of the pick together.',
      'weight',
      'the weight of the whole pick',
      { also: ['total weight', 'weighttogether', 'weight of pick', 'mass', 'total', 'yield'] },
    ),
  ),
  sample: optional(
    choice(
      'How the fruit in weights were chosen from the pick. best keeps them out of the means.',
      ['all', 'random', 'best'],
      { also: ['sampled'] },
    ),
  ),
  ...defects,
  ...remarks,
};

/** Fruit picked from one tree on one day. */
export const pick = {
  section: 'picks',
  many: 'picks',
  hint: 'Fruit picked from one tree on one day.',
  fields,
  schema: mapOf(fields, 'a map: { on: ..., tree: ..., crop: ..., weights: [...] }'),
} as const satisfies Kind;
