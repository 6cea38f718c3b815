import * as z from 'zod/mini';
import { type Defect, type Pick, WEIGHED_SAMPLES } from '../model/entries.ts';
import {
  amount,
  choice,
  crop,
  DAY_NAMES,
  day,
  entryTree,
  FRUIT_NAMES,
  field,
  optional,
  remarks,
  whole,
} from './field.ts';
import { type Kind, mapOf, type Said } from './kind.ts';
import { quantity } from './values.ts';

/** A spoiled fruit is counted under one of these, its worst. */
function spoiled(hint: string, also: readonly string[]) {
  return optional(whole(hint, { also, column: { about: 'Fruit whose worst defect this was.' } }));
}

const defects = {
  split: spoiled('Fruit split, and nothing worse.', [
    ...['splits', 'splitting', 'cracked', 'cracks', 'cracking', 'split fruit'],
  ]),
  bird: spoiled('Fruit pecked by birds.', [
    ...['birds', 'bird damage', 'pecked', 'pecks', 'pecking', 'blackbird', 'blackbirds'],
    ...['starling', 'starlings', 'pigeon', 'pigeons', 'crow', 'crows', 'magpie', 'magpies'],
  ]),
  insect: spoiled('Fruit spoiled by insects.', [
    ...['insects', 'insect damage', 'wasp', 'wasps', 'hornet', 'hornets', 'ant', 'ants'],
    ...['fly', 'flies', 'fruit fly', 'fruit flies', 'fruitfly', 'fruitflies', 'earwig', 'earwigs'],
    ...['beetle', 'beetles', 'maggot', 'maggots', 'caterpillar', 'caterpillars', 'moth', 'moths'],
    ...['bee', 'bees'],
  ]),
  animal: spoiled('Fruit gnawed by slugs, snails, rodents or other animals.', [
    ...['animals', 'animal damage', 'slug', 'slugs', 'snail', 'snails', 'slug damage', 'gnawed'],
    ...['rodent', 'rodents', 'mouse', 'mice', 'rat', 'rats', 'vole', 'voles', 'dormouse'],
    ...['squirrel', 'squirrels', 'badger', 'badgers', 'fox', 'foxes', 'marten', 'martens'],
    ...['deer', 'rabbit', 'rabbits', 'raccoon', 'raccoons', 'possum', 'possums', 'bat', 'bats'],
  ]),
  mould: spoiled('Fruit mouldy or soured.', [
    ...['mold', 'mouldy', 'moldy', 'rot', 'rotten', 'sour', 'soured', 'souring'],
  ]),
  unripe: spoiled('Fruit picked before it was ripe.', ['not ripe', 'underripe', 'green']),
} satisfies Record<Defect, unknown>;

const fields = {
  on: day('The day of the pick.', DAY_NAMES),
  tree: entryTree,
  crop,
  fruit: optional(
    whole('Fruit picked; may be left out where every one of them is in weights.', {
      ...FRUIT_NAMES,
      column: { about: 'Fruit picked.' },
    }),
  ),
  weights: optional(
    field(
      'The weights of single fruit, as [52.4, 47].',
      z.array(quantity('the weight of a fruit'), {
        error: 'a list of weights, for example [52.4, 47]',
      }),
      { kind: 'amount', dimension: 'weight', isList: true },
      {
        words: [],
        also: ['fruit weight', 'fruit weights', 'single weight', 'single weights', 'each'],
        numbered: ['fig', 'fruit', 'weight', 'w'],
        column: { key: 'singleWeights', about: 'Their weights, with spaces between.' },
      },
    ),
  ),
  weight: optional(
    amount(
      'The weight of all fruit of the pick together.',
      'weight',
      'the weight of the whole pick',
      {
        also: ['total weight', 'weight of pick', 'wt', 'mass', 'total', 'yield'],
        column: { key: 'weightTogether', about: 'All fruit on the scales together.' },
      },
    ),
  ),
  sample: optional(
    choice(
      'How the fruit in weights were chosen from the pick. best keeps them out of the means.',
      WEIGHED_SAMPLES,
      {
        column: { key: 'sampled', about: 'How those were chosen: all, random or best.' },
      },
    ),
  ),
  ...defects,
  ...remarks,
};

/** Fruit picked from one tree on one day. */
export const pick = {
  section: 'picks',
  one: 'pick',
  many: 'picks',
  addsUp: true,
  hint: 'Fruit picked from one tree on one day.',
  fields,
  needsOneOf: ['fruit', 'weights'],
  schema: mapOf(fields, 'a map: { on: ..., tree: ..., crop: ..., weights: [...] }'),
  /** A list without a weight and a defect of no fruit say nothing. */
  said({ weights, defects: spoilt, ...rest }: Pick): Said {
    const some = Object.entries(spoilt).filter(([, fruit]) => fruit > 0);
    return {
      ...rest,
      weights: weights.length === 0 ? undefined : weights,
      ...Object.fromEntries(some),
    };
  },
} as const satisfies Kind;
