import { amount, DAY_NAMES, day, entryTree, optional, remarks } from './field.ts';
import { type Kind, mapOf } from './kind.ts';

const fields = {
  on: day('The day of measuring.', {
    ...DAY_NAMES,
    also: [...DAY_NAMES.also, 'measured', 'measured on'],
  }),
  tree: entryTree,
  girth: optional(
    amount('Girth of the trunk, always at the same height.', 'girth', 'the girth of the trunk', {
      also: ['trunk girth', 'circumference', 'trunk circumference'],
      column: { about: 'Girth of the trunk.' },
      told: (girth) => `trunk girth ${girth}`,
    }),
  ),
  height: optional(
    amount('Height of the tree.', 'height', 'the height', {
      also: ['tree height', 'tall'],
      column: { about: 'Height.' },
    }),
  ),
  ...remarks,
};

/** How big a tree is. */
export const growth = {
  section: 'growth',
  one: 'growth',
  many: 'measurements',
  counted: ['measuring', 'measurings'],
  table: 'Girth and height of trees.',
  hint: 'How big a tree is.',
  fields,
  lines: [
    { pattern: 'girth TREE N', example: 'girth G3 14.2', meaning: 'girth of the trunk' },
    { pattern: 'height TREE N', example: 'height G3 180', meaning: 'height of the tree' },
  ],
  needsOneOf: ['girth', 'height'],
  schema: mapOf(fields, 'a map: { on: ..., tree: ..., girth: ... }'),
} as const satisfies Kind;
