import * as z from 'zod/mini';
import { containerSchema } from './collection-schema.ts';
import {
  date,
  name,
  number,
  numberWithin,
  oneOf,
  positiveWhole,
  quantity,
  reference,
  remarks,
  text,
  titled,
  wholeNumber,
} from './fields.ts';

const tree = reference('the id of a tree');
const crop = reference('early or main, or the word of this ledger for it');
const label = reference('the label of a sample');
const site = reference('the key of a site');

export const countSchema = z.strictObject(
  { on: date, tree, crop, fruit: wholeNumber, branches: z.optional(positiveWhole), ...remarks },
  { error: 'a map: { on: ..., tree: ..., crop: ..., fruit: ... }' },
);

export const pickSchema = z.strictObject(
  {
    on: date,
    tree,
    crop,
    fruit: z.optional(wholeNumber),
    weights: z.optional(
      z.array(quantity('the weight of a fruit'), {
        error: 'a list of weights, for example [52.4, 47]',
      }),
    ),
    weight: z.optional(quantity('the weight of the whole pick')),
    sample: z.optional(oneOf(['all', 'random', 'best'])),
    split: z.optional(wholeNumber),
    bird: z.optional(wholeNumber),
    insect: z.optional(wholeNumber),
    mould: z.optional(wholeNumber),
    unripe: z.optional(wholeNumber),
    ...remarks,
  },
  { error: 'a map: { on: ..., tree: ..., crop: ..., weights: [...] }' },
);

export const dropSchema = z.strictObject(
  { on: date, tree, crop, fruit: wholeNumber, ...remarks },
  { error: 'a map: { on: ..., tree: ..., crop: ..., fruit: ... }' },
);

const sampleSchema = z.strictObject(
  {
    tree,
    crop,
    as: z.optional(label),
    ripeness: z.optional(oneOf(['under', 'ripe', 'over'])),
    brix: z.optional(numberWithin(0, 85, 'degrees Brix from 0 to 85')),
    eye: z.optional(quantity('the width of the eye')),
    ...remarks,
  },
  { error: 'a map: { tree: ..., crop: ... }' },
);

const SHEET = 'a map from a taster to samples, as in mara: { G3: { flavour: 8 } }';
export const tastingSchema = z.strictObject(
  {
    on: date,
    samples: z.array(sampleSchema, { error: 'a list of samples' }),
    scores: z.nullish(
      z.record(
        z.string(),
        z.record(z.string(), z.record(z.string(), number, { error: SHEET }), { error: SHEET }),
        {
          error: SHEET,
        },
      ),
    ),
    order: z.nullish(
      z.record(
        z.string(),
        z.array(
          z.union([label, z.array(label)], { error: 'a sample, or a list of tied samples' }),
          {
            error: 'a list, best first',
          },
        ),
        { error: 'a map from a taster to a list, best first' },
      ),
    ),
    ...remarks,
  },
  { error: 'a map with on, samples, scores or order' },
);

export const growthSchema = z.strictObject(
  {
    on: date,
    tree,
    girth: z.optional(quantity('the girth of the trunk')),
    height: z.optional(quantity('the height')),
    ...remarks,
  },
  { error: 'a map: { on: ..., tree: ..., girth: ... }' },
);

const happened = { on: date, ...remarks };
const upon = { tree: z.optional(tree), site: z.optional(site) };

export const eventSchema = z.discriminatedUnion(
  'kind',
  [
    z.strictObject({ ...happened, kind: z.literal('move'), tree, site }),
    z.strictObject({ ...happened, kind: z.literal('water'), ...upon, product: z.optional(text) }),
    z.strictObject({ ...happened, kind: z.literal('feed'), ...upon, product: z.optional(text) }),
    z.strictObject({ ...happened, kind: z.literal('prune'), ...upon, product: z.optional(text) }),
    z.strictObject({
      ...happened,
      kind: z.literal('repot'),
      tree,
      container: z.optional(containerSchema),
    }),
    z.strictObject({
      ...happened,
      kind: z.literal('spray'),
      ...upon,
      product: name,
      wait_days: wholeNumber.check(z.lte(3660, { error: 'a number of days' })),
      after: z.optional(z.literal('picks', { error: 'picks' })),
    }),
    z.strictObject({
      ...happened,
      kind: z.literal('frost'),
      ...upon,
      low: z.optional(quantity('the lowest temperature')),
    }),
    z.strictObject({
      ...happened,
      kind: z.literal('winter-damage'),
      tree,
      dieback: z.optional(quantity('the length that died back')),
    }),
  ],
  {
    error: ({ code }) =>
      code === 'invalid_union'
        ? 'move, water, feed, prune, repot, spray, frost or winter-damage'
        : 'a map: { on: ..., kind: ... }',
  },
);

function section<Schema extends z.ZodMiniType>(entry: Schema, what: string) {
  return z.nullish(z.array(entry, { error: `a list of ${what}, each beginning with "- "` }));
}

/** `seasons/YYYY.yaml`: what was seen that year. */
export const seasonSchema = titled(
  'pomary: seasons/YYYY.yaml',
  z.strictObject(
    {
      season: z
        .int({ error: 'a year, as in 2026' })
        .check(z.gte(1000, { error: 'a year' }), z.lte(9998, { error: 'a year' })),
      counts: section(countSchema, 'counts'),
      picks: section(pickSchema, 'picks'),
      drops: section(dropSchema, 'drops'),
      tastings: section(tastingSchema, 'tastings'),
      growth: section(growthSchema, 'measurements'),
      events: section(eventSchema, 'events'),
      note: z.nullish(text),
    },
    { error: 'a map that begins with season: 2026' },
  ),
);

export type RawSeason = z.infer<typeof seasonSchema>;
export type RawCount = z.infer<typeof countSchema>;
export type RawDrop = z.infer<typeof dropSchema>;
export type RawPick = z.infer<typeof pickSchema>;
export type RawTasting = z.infer<typeof tastingSchema>;
export type RawEvent = z.infer<typeof eventSchema>;
